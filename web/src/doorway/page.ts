/**
 * The doorway page at work. A setting that is turned is shown at once and marked as
 * not yet asked in full; when it rests it is saved, and all is asked again.
 */
import { says, send } from "../asking.ts";
import { showClash } from "../clash/doorway.ts";
import { Drawing } from "./drawing.ts";
import * as findings from "./findings.ts";
import { Keeping } from "./keeping.ts";
import { Latest } from "./latest.ts";
import type { Clash, Kept, Moving, Ranges, Rested } from "./replies.ts";
import { linesOf } from "./replies.ts";
import { Saying } from "./saying.ts";
import { Settings } from "./settings.ts";

const WIDTH = 1000; // px of the drawings that come with the page
const NARROW = 600; // px: below it the server makes the narrow drawing
const LEGIBLE = 0.87; // a drawing painted smaller than this is asked for anew
const SOON = 250; // ms that a setting rests until it is saved
const AGAIN = 5000; // ms until a save that had no answer is tried again

type State = "saved" | "saving" | "unsaved" | "clash";
type Outcome<Body> = { body: Body } | { refused: string[] } | null;

/** What the page shows, and since when the hand waits for it (ms). */
interface Wanted {
  since: number;
}

export class Page {
  readonly #root: HTMLElement;
  readonly #address: string;
  readonly #drawing: Drawing;
  readonly #settings: Settings | null;
  readonly #saying: Saying;
  readonly #keeping: Keeping;
  #ranging: AbortController | null = null;
  readonly #moving: Latest<Wanted, Outcome<Moving>>;
  readonly #resting: Latest<Wanted, Outcome<Rested>>;
  #version: number;
  #edits: Record<string, string> = {};
  #view: string;
  #unit: string;
  #finding: string | null;
  #saving = false;
  #clashed: number | null = null;
  /** Whether the settings are to be written anew, not only their values. */
  #anew = false;
  #last: string[] = [];
  #again = 0;
  #soon = 0;
  /** Of the room's width, how much a view takes. */
  readonly #share = new Map<string, number>();
  /** Whether a hand turns something, and lines of this moment are shown. */
  #turning = false;

  constructor(root: HTMLElement) {
    this.#root = root;
    this.#address = root.dataset["address"]!;
    this.#version = Number(root.dataset["version"]);
    this.#unit = root.dataset["unit"] ?? "";
    this.#view = this.#chosenView();
    // What was drawn first stays drawn, so that one sees it change.
    this.#finding = root.dataset["drawn"] || null;
    const settings = root.querySelector<HTMLElement>("[data-unit-settings]");
    this.#settings = settings ? new Settings(settings) : null;
    this.#saying = new Saying(root.querySelector(".desk-drawing > [data-says]"));
    this.#keeping = new Keeping(this.#address);
    const drawing = root.querySelector<HTMLElement>(".desk-drawing")!;
    this.#drawing = new Drawing(drawing, (fitting, along, rests) => {
      this.#settings?.along(fitting, along);
      if (rests && fitting !== this.#unit) this.unit(fitting);
      this.turn(`fitting[${fitting}].lens.along`, `${along} mm`, rests);
    });
    this.#moving = new Latest(
      () => this.#preview<Moving>(false),
      (found, { since }) => this.#moved(found, since),
    );
    this.#resting = new Latest(
      () => this.#preview<Rested>(true),
      (found) => this.#rested(found),
    );
  }

  /** Take up what was left unsaved, and fit the drawing to the screen. */
  begin(): void {
    const left = this.#keeping.left();
    if (left) {
      this.#edits = left.edits;
      this.#version = left.version;
      void this.#save();
    } else if (this.#view === "space" || this.#fit(this.#view, WIDTH) || Math.abs(this.#width() - WIDTH) > 150) {
      this.#resting.ask({ since: performance.now() });
    } else {
      this.#drawing.begin(this.#view);
    }
    void this.#ranges();
    window.addEventListener("online", () => void this.#save());
  }

  // What a person does ------------------------------------------------------------

  /** A setting is turned, or rests at a value. */
  turn(key: string, text: string, rests: boolean): void {
    const since = performance.now();
    this.#settings?.turned(key);
    this.#edits[key] = text;
    const kept = this.#keep();
    clearTimeout(this.#soon);
    if (rests) {
      this.#turning = false;
      this.#state("saving");
      // Keys turn step by step: one save for all of them, one step to undo.
      this.#soon = window.setTimeout(() => void this.#save(), SOON);
      return;
    }
    if (!kept) this.#notice(this.#word("lost"));
    if (!this.#turning) this.#waiting();
    this.#turning = true;
    this.#resting.drop();
    this.#ranging?.abort();
    this.#moving.ask({ since });
  }

  /** Several settings at once, as a remedy names them. */
  set(edits: readonly (readonly [string, string])[]): void {
    for (const [key, text] of edits) this.#edits[key] = text;
    this.#keep();
    this.#anew = true;
    void this.#save();
  }

  view(name: string): void {
    this.#view = name;
    this.#redraw();
  }

  unit(name: string): void {
    this.#unit = name;
    this.#anew = true;
    this.#drawing.choose(name);
    const radio = this.#root.querySelector<HTMLInputElement>(`[name=unit][value="${name}"]`);
    if (radio) radio.checked = true;
    this.#redraw();
  }

  finding(id: string): void {
    this.#finding = id;
    findings.drawnIs(this.#part("findings"), id);
    this.#redraw();
  }

  async step(way: "undo" | "redo"): Promise<void> {
    if (this.#saving || Object.keys(this.#edits).length) return;
    this.#saving = true;
    this.#state("saving");
    const answer = await send("POST", `${this.#address}/${way}`, { json: { version: this.#version } });
    this.#saving = false;
    if (answer.kind === "done") {
      this.#anew = true;
      this.#last = [];
      this.#kept(answer.body as Kept);
    } else if (answer.kind === "clash") {
      location.reload();
    } else {
      this.#state("saved");
      this.#notice(answer.kind === "refused" ? linesOf(answer.body).join(" ") : this.#word("offline"));
    }
    // What was turned while it was under way waits.
    if (Object.keys(this.#edits).length) void this.#save();
  }

  /** Two versions were put together, or theirs was taken: what is kept now counts. */
  settled(version: number | null): void {
    if (version === null) this.#part("clash").replaceChildren();
    this.#version = version ?? this.#clashed ?? this.#version;
    this.#clashed = null;
    this.#anew = true;
    this.#edits = {};
    this.#keep();
    this.#state("saved");
    this.#resting.ask({ since: performance.now() });
    void this.#ranges();
  }

  // Saving ------------------------------------------------------------------------

  async #save(): Promise<void> {
    clearTimeout(this.#again);
    const edits = { ...this.#edits };
    if (this.#saving || this.#clashed !== null || !Object.keys(edits).length) return;
    this.#saving = true;
    this.#state("saving");
    this.#waiting();
    const json = { version: this.#version, edits };
    const answer = await send("POST", `${this.#address}/save`, { json });
    this.#saving = false;
    switch (answer.kind) {
      case "done":
        this.#saved(edits, answer.body as Kept);
        break;
      case "clash":
        this.#clash(answer.body as Clash);
        break;
      case "refused":
        this.#refused(edits, linesOf(answer.body));
        break;
      default:
        this.#state("unsaved");
        this.#notice(this.#keep() ? (says(answer) ?? this.#word("offline")) : this.#word("lost"));
        this.#again = window.setTimeout(() => void this.#save(), AGAIN);
    }
  }

  #saved(edits: Record<string, string>, kept: Kept): void {
    for (const [key, text] of Object.entries(edits)) {
      if (this.#edits[key] === text) delete this.#edits[key];
    }
    this.#last = Object.keys(edits);
    this.#notice("");
    this.#kept(kept);
    if (Object.keys(this.#edits).length) void this.#save();
  }

  /** A text was saved: everything is asked again of it. */
  #kept(kept: Kept): void {
    this.#version = kept.version;
    this.#keep();
    if (!Object.keys(this.#edits).length) this.#state("saved");
    this.#steps(kept);
    this.#waiting();
    this.#settings?.forget(this.#last);
    this.#resting.ask({ since: performance.now() });
    void this.#ranges();
  }

  #clash(clash: Clash): void {
    this.#clashed = clash.version;
    this.#state("clash");
    const place = this.#part("clash");
    showClash(place, clash.html ?? "");
  }

  /** What was typed stays in its field, with the reason; it is not sent again. */
  #refused(edits: Record<string, string>, lines: string[]): void {
    const keys = Object.keys(edits);
    const told = keys.length === 1 && this.#settings?.fault(keys[0]!, lines);
    for (const key of keys) delete this.#edits[key];
    this.#keep();
    this.#state("unsaved");
    if (!told) this.#notice(lines.join(" "));
    this.#resting.ask({ since: performance.now() });
  }

  #keep(): boolean {
    return this.#keeping.keep({ version: this.#version, edits: this.#edits });
  }

  // Showing -----------------------------------------------------------------------

  async #preview<Body>(rests: boolean): Promise<Outcome<Body>> {
    const json = {
      version: this.#version,
      edits: rests ? {} : this.#edits,
      rests,
      view: this.#view,
      finding: this.#finding,
      unit: this.#unit || null,
      width: Math.round(this.#width()),
    };
    const answer = await send("POST", `${this.#address}/preview`, { json });
    if (answer.kind === "done") return { body: answer.body as Body };
    return answer.kind === "refused" ? { refused: linesOf(answer.body) } : null;
  }

  #moved(found: Outcome<Moving>, since: number): void {
    // What was saved meanwhile is asked in full and is not to be overwritten.
    if (!found || !Object.keys(this.#edits).length) return;
    if ("refused" in found) {
      const [key] = Object.keys(this.#edits);
      if (!key || !this.#settings?.fault(key, found.refused)) this.#notice(found.refused.join(" "));
      return;
    }
    const { body } = found;
    this.#drawing.show(body);
    findings.moving(this.#part("findings"), body.lines);
    this.#settings?.reads(body.reads);
    this.#saying.moving(body.reads[this.#unit] ?? "");
    requestAnimationFrame(() => performance.measure("limen:redrawn", { start: since }));
  }

  #rested(found: Outcome<Rested>): void {
    if (!found || Object.keys(this.#edits).length) return;
    if ("refused" in found) {
      this.#notice(found.refused.join(" "));
      return;
    }
    const { body } = found;
    // Answered before the last save was: what is kept now has been asked for since.
    if (body.version < this.#version) return;
    const width = this.#width();
    if (body.version > this.#version) {
      // Saved elsewhere meanwhile, and nothing set here: theirs is shown.
      this.#version = body.version;
      void this.#ranges();
    }
    this.#drawing.show(body);
    if (this.#fit(body.view, width)) this.#resting.ask({ since: performance.now() });
    this.#part("next").innerHTML = body.next_html;
    this.#part("next").removeAttribute("data-waiting");
    findings.replace(this.#part("findings"), body.findings_html);
    this.#written(body);
    this.#steps(body);
    this.#saying.rests(body.says);
    this.#remember(body.drawn);
  }

  #written(body: Rested): void {
    if (!this.#settings) return;
    if (this.#anew || this.#settings.unit !== this.#unit) {
      this.#settings.replace(body.settings_html);
      this.#anew = false;
      void this.#ranges();
    } else {
      this.#settings.values(body.knobs, body.choices);
    }
  }

  /** One setting after the other, until something is turned or saved meanwhile. */
  async #ranges(): Promise<void> {
    const [version, unit] = [this.#version, this.#unit];
    this.#ranging?.abort();
    const under = new AbortController();
    this.#ranging = under;
    for (const key of this.#settings?.keys() ?? []) {
      const query = new URLSearchParams({ unit, key });
      const answer = await send("GET", `${this.#address}/ranges?${query}`, { signal: under.signal });
      if (under.signal.aborted || answer.kind !== "done" || unit !== this.#settings?.unit) return;
      const { version: of, windows, remarks } = answer.body as Ranges;
      if (of !== version || version !== this.#version) return;
      this.#settings.windows(windows, remarks);
    }
  }

  /** The same, drawn anew: another view, finding or unit. */
  #redraw(): void {
    const since = performance.now();
    if (Object.keys(this.#edits).length) this.#moving.ask({ since });
    else this.#resting.ask({ since });
  }

  #waiting(): void {
    this.#part("next").setAttribute("data-waiting", this.#word("waiting"));
    findings.waiting(this.#part("findings"));
  }

  #state(state: State): void {
    const place = document.querySelector<HTMLElement>(".kept");
    if (!place || place.dataset["state"] === state) return;
    place.dataset["state"] = state;
    place.textContent = this.#word(state);
  }

  #steps(kept: Kept): void {
    for (const [way, can] of [["undo", kept.can_undo], ["redo", kept.can_redo]] as const) {
      const button = this.#root.querySelector<HTMLButtonElement>(`[data-step="${way}"]`);
      if (button) button.disabled = !can;
    }
  }

  #notice(words: string): void {
    const place = this.#part("notice");
    place.hidden = !words;
    place.textContent = words;
  }

  #remember(drawn: string): void {
    const query = new URLSearchParams({ view: this.#view });
    if (this.#finding && drawn) query.set("finding", drawn);
    if (this.#unit) query.set("unit", this.#unit);
    history.replaceState(null, "", `?${query}`);
  }

  #chosenView(): string {
    return this.#root.querySelector<HTMLInputElement>("[name=view]:checked")?.value ?? "plan";
  }

  /** As wide as the drawing is painted: its letters then have the size they are meant to. */
  #width(): number {
    const shown = this.#root.querySelector<HTMLElement>(`.drawing[data-view="${this.#view}"]`);
    const room = shown?.clientWidth || WIDTH;
    const wide = room * (this.#share.get(this.#view) ?? 1);
    return room < NARROW ? room : Math.max(NARROW, wide);
  }

  /** A drawing that is higher than its room is painted smaller: asked for anew, once. */
  #fit(drawn: string, width: number): boolean {
    const shrunk = this.#drawing.shrunk(drawn);
    const room = this.#root.querySelector<HTMLElement>(`.drawing[data-view="${drawn}"]`)?.clientWidth;
    if (shrunk > LEGIBLE || !room || this.#share.has(drawn) || width <= NARROW) return false;
    this.#share.set(drawn, (shrunk * width) / room);
    return true;
  }

  #part(name: string): HTMLElement {
    return this.#root.querySelector<HTMLElement>(`[data-${name}]`)!;
  }

  #word(name: string): string {
    return this.#root.getAttribute(`data-word-${name}`) ?? "";
  }
}
