/** Readings: one at a time, on big number fields. */
import { act, choice, fault, MAIN, noFaults, numberField, SECOND, typed } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { readNote } from "./changed_words.ts";
import { el, fill } from "./dom.ts";
import type { Draft, Reading } from "./events.ts";
import type { Screen } from "./frame.ts";
import { hangingLines } from "./hanging.ts";
import { typedLength, writtenLength } from "./lengths.ts";
import { toDoor } from "./routes.ts";
import { AS_FOUND } from "./steps.ts";

const KINDS = ["row line", "row end", "spot centre", "box edge in"] as const;
type KindOf = (typeof KINDS)[number];

/** What each kind of reading asks, and between what (m). */
const ASKS: Record<KindOf, { out: boolean; height: boolean; end: boolean }> = {
  "row line": { out: true, height: false, end: false },
  "row end": { out: false, height: false, end: true },
  "spot centre": { out: true, height: false, end: false },
  "box edge in": { out: true, height: true, end: false },
};
const BOUNDS: Record<string, [number, number]> = { out: [0, 5], place: [-5, 15], height: [0.05, 1.5] };

export function readingScreen(card: Card, door: Door, first: boolean): Screen {
  const { say, count } = card.words;
  const units = door.pack.card.units;
  const kept = (first ? door.visit.asFound : door.visit.readings).length;
  const base: Omit<Screen, "body"> = { title: say(first ? "card.readings.as_found" : "card.readings.title"), kind: "reading" };
  if (!units.length) return { ...base, body: el("p", {}, say("card.readings.none_here")), acts: ends(card, door, first, kept) };
  const root: HTMLElement = el("div", { class: "card-form" });
  const ask = (kind: string) => root.querySelector(".card-asked")?.replaceWith(asked(card, door, kind as KindOf));
  const kinds = KINDS.map((value) => ({ value, words: say(`card.readings.${slug(value)}`) }));
  fill(root, [
    el("p", { class: "card-quiet", role: "status" }, count("card.readings.kept", kept)),
    lines(card, door, first),
    first ? readNote(card, door) : null,
    units.map((one) => hangs(card, door, first, one.id)),
    units.length > 1
      ? choice("unit", say("card.readings.unit"), units.map((one) => ({ value: one.id, words: one.name })), units[0]?.id ?? "")
      : el("p", {}, units[0]?.name ?? ""),
    choice("kind", say("card.readings.kind"), kinds, "row line", ask),
    asked(card, door, "row line"),
  ]);
  return { ...base, body: [first ? el("p", { class: "card-why" }, say("card.why.as_found")) : null, root], acts: acts(card, door, root, first, kept) };
}

function acts(card: Card, door: Door, root: HTMLElement, first: boolean, kept: number): HTMLElement[] {
  const { say } = card.words;
  const keep = () => {
    const said = readingOf(card, door, root);
    if (!said) return false;
    const draft: Draft = first ? { kind: "as_found", said } : { kind: "reading", said };
    const to = toDoor(door.key, first ? "as_found" : "readings");
    return card.keep(door, [draft], lineOf(card, said.reading), { to });
  };
  return [act(card, MAIN, say("card.readings.keep"), keep), ...ends(card, door, first, kept)];
}

/** How one goes on: read enough, or it cannot be read, and why. */
function ends(card: Card, door: Door, first: boolean, kept: number): HTMLElement[] {
  const { say } = card.words;
  if (kept || !first) return [el("a", { class: SECOND, href: toDoor(door.key) }, say("card.readings.finish"))];
  return [el("a", { class: SECOND, href: toDoor(door.key, "cannot", AS_FOUND) }, say("card.readings.cannot"))];
}

function asked(card: Card, door: Door, kind: KindOf): HTMLElement {
  const { say } = card.words;
  const unit = say(door.pack.card.feet ? "card.readings.in" : "card.readings.mm");
  const asks = ASKS[kind];
  const posts = ["left", "right"].map((value) => ({ value: `from_${value}`, words: say(`card.readings.from_${value}`) }));
  const rows = ["", "1", "2", "3", "4"].map((value) => ({ value, words: value || say("card.readings.row_open") }));
  const ends = ["left", "right"].map((value) => ({ value, words: say(`card.readings.${value}`) }));
  return el(
    "div",
    { class: "card-asked" },
    asks.out ? numberField("out", say("card.readings.out"), unit) : null,
    numberField("place", say("card.readings.place"), unit),
    choice("post", say("card.readings.sides"), posts, "from_left"),
    asks.height ? numberField("height", say("card.readings.height"), unit) : null,
    asks.end ? choice("end", say("card.readings.end"), ends, "left") : null,
    choice("row", say("card.readings.row"), rows, ""),
  );
}

function readingOf(card: Card, door: Door, root: HTMLElement): { fitting: string; reading: Reading } | null {
  noFaults(root);
  const kind = typed(root, "kind") as KindOf;
  const feet = door.pack.card.feet;
  const said: Record<string, string | number> = {};
  for (const name of ["out", "place", "height"]) {
    if (!root.querySelector(`[name="${name}"]`)) continue;
    const text = typed(root, name);
    const why = wrong(card, name, text, feet);
    if (why) {
      fault(root, name, why);
      return null;
    }
    said[name === "place" ? typed(root, "post") : name] = writtenLength(text, feet);
  }
  const row = typed(root, "row");
  if (row) said["row"] = Number(row);
  if (ASKS[kind].end) said["end"] = typed(root, "end");
  const fitting = typed(root, "unit") || (door.pack.card.units[0]?.id ?? "");
  return { fitting, reading: { kind, ...said } };
}

function wrong(card: Card, name: string, text: string, feet: boolean): string | null {
  const { say } = card.words;
  const unit = say(feet ? "card.readings.in" : "card.readings.mm");
  const length = typedLength(text, feet);
  if (length === null) return say("card.readings.number_missing", { unit, example: feet ? "21 1/4" : "540" });
  const [least, most] = BOUNDS[name] ?? [0, 5];
  if (length >= least && length <= most) return null;
  const bare = (metres: number) => (feet ? Math.round(metres / 0.0254) : Math.round(metres * 1000));
  return say("card.readings.number_range", { least: bare(least), most: bare(most), unit });
}

/** What was read so far, last first. */
function lines(card: Card, door: Door, first: boolean): HTMLElement | null {
  const read = first ? door.visit.asFound : door.visit.readings;
  const shown = read.map((one) => one.said).filter((one) => "reading" in one).toReversed();
  if (!shown.length) return null;
  return el("ul", { class: "card-read" }, shown.slice(0, 4).map((one) => el("li", {}, `${unitName(door, one.fitting)}: ${lineOf(card, one.reading)}`)));
}

/** How a unit hangs by all that was read of it on this screen. */
function hangs(card: Card, door: Door, first: boolean, fitting: string): HTMLElement | null {
  const said = (first ? door.visit.asFound : door.visit.readings).map((one) => one.said);
  const read = said.flatMap((one) => ("reading" in one && one.fitting === fitting ? [one.reading] : []));
  const told = hangingLines(card, door, fitting, read);
  if (!told) return null;
  return el("section", {}, el("h2", {}, unitName(door, fitting)), told);
}

function lineOf(card: Card, reading: Reading): string {
  const kind = card.words.say(`card.readings.${slug(String(reading.kind))}`);
  const out = reading["out"];
  return out ? card.words.say("card.readings.line_out", { kind, out: String(out).replace(" ", "\u00a0") }) : kind;
}

function unitName(door: Door, id: string): string {
  return door.pack.card.units.find((one) => one.id === id)?.name ?? id;
}

function slug(kind: string): string {
  return kind.replaceAll(" ", "_");
}

