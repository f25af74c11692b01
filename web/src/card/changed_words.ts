/** What changed since the last record, as the card says it. */
import type { Card, Door } from "./app.ts";
import { owedByChange, readAgain, type Again } from "./change.ts";
import { el } from "./dom.ts";
import { shownLength } from "./lengths.ts";

/** Why a test is owed because something changed; nothing if it is not. */
export function whyChanged(card: Card, door: Door, test: string): string[] {
  const why = owedByChange(door.pack, door.visit).get(test);
  if (!why) return [];
  return [...why.because, ...why.read.map((one) => card.words.say("card.change.why", { what: readWords(card, door, one) }))];
}

/** What the list says before all steps: how many tests are owed, and what moved. */
export function changedNote(card: Card, door: Door): HTMLElement | null {
  const { say, count } = card.words;
  const change = door.pack.change;
  const owed = owedByChange(door.pack, door.visit);
  if (!change || !owed.size) return null;
  return el(
    "section",
    { class: "card-group" },
    el("h2", {}, say("card.change.title")),
    el("p", {}, count("card.change.owed", owed.size)),
    change.only ? el("p", { class: "card-quiet" }, say("card.change.only")) : null,
    readNote(card, door),
  );
}

/** What was read as found, beside how it was left, and what that opens again. */
export function readNote(card: Card, door: Door): HTMLElement | null {
  const { say } = card.words;
  const read = readAgain(door.pack, door.visit);
  if (!read.length) return null;
  const tests = new Map(door.pack.tests.map((one) => [one.id, one.title]));
  const lines = read.map((one) => {
    const owes = one.moved ? one.left.owes.map((id) => tests.get(id)).filter((title) => title !== undefined) : [];
    const opens = owes.length ? el("details", { class: "card-details" }, el("summary", {}, card.words.count("card.change.reopens", owes.length)), el("ul", {}, owes.map((title) => el("li", {}, title)))) : null;
    return el("li", { data: { moved: String(one.moved) } }, one.moved ? readWords(card, door, one) : say("card.change.as_left", fills(door, one)), opens);
  });
  return el("ul", { class: "card-read" }, lines);
}

function readWords(card: Card, door: Door, one: Again): string {
  return card.words.say("card.change.read", fills(door, one));
}

function fills(door: Door, one: Again): Record<string, string> {
  const length = (metres: number) => shownLength(Math.abs(metres), door.pack.card.feet);
  return { what: one.left.what, left: length(one.left.left), found: length(one.found), by: length(one.by), within: length(one.within) };
}
