/** What was found, put on the page. Every piece is cut from a template of the page. */
import type { Chain } from "../record/chain.ts";
import { type Fact, filled, grouped, type Mark, type Told, type Words } from "./telling.ts";

export interface Item {
  /** The result of a check. */
  tell(what: Told): void;
  /** That there is none, and why: keys of words. */
  say(what: { mark: Mark; word: string; says: readonly string[] }): void;
}

export interface Shown {
  readonly name: string;
  readonly item: Item;
}

export interface FirmShown {
  readonly key: string;
  readonly name: string;
  readonly here: "desk" | "page";
}

const SHORT = 8;

/** A line of the page that says one thing. */
export function tell(place: "how" | "busy" | "taken" | "same", text: string): void {
  const line = document.querySelector<HTMLElement>(`[data-verify-${place}]`);
  if (line) line.textContent = text;
}

/** A place in the list for one file. */
export function show(name: string, words: Words): Item {
  const list = document.querySelector("[data-verify-results]");
  const item = cut("result");
  part(item, "name").textContent = name;
  list?.append(item);
  document.querySelector("[data-verify-found]")?.removeAttribute("hidden");
  return {
    say: ({ mark, word, says }) => fill(item, { mark, word: words[word] ?? "", says: says.map((key) => words[key] ?? ""), todo: null, facts: [] }),
    tell: (what) => fill(item, what),
  };
}

export function showFirms(firms: readonly FirmShown[], words: Words): void {
  const list = document.querySelector("[data-verify-firms]");
  const none = document.querySelector("[data-verify-no-firms]");
  none?.toggleAttribute("hidden", firms.length > 0);
  list?.replaceChildren(
    ...firms.map((one) => {
      const item = cut("firm");
      part(item, "name").textContent = one.name;
      part(item, "here").textContent = words[`trust.${one.here}`] ?? "";
      part(item, "key").textContent = grouped(one.key);
      return item;
    }),
  );
}

/** The records of one doorway that were dropped. */
export interface Hanging {
  readonly door: string;
  readonly chain: Chain;
}

export function showChains(doors: readonly Hanging[], names: ReadonlyMap<string, string>, words: Words): void {
  document.querySelector("[data-verify-chain]")?.toggleAttribute("hidden", doors.length === 0);
  const list = document.querySelector("[data-verify-doors]");
  list?.replaceChildren(...doors.flatMap(({ door, chain }) => hanging(door, chain, names, words)));
}

function hanging(door: string, chain: Chain, names: ReadonlyMap<string, string>, words: Words): HTMLElement[] {
  const named = (digests: readonly string[]) => digests.map((one) => nameOf(one, names, words)).join(", ");
  const lacking = chain.missing.length > 0;
  const name = document.createElement("h4");
  name.textContent = door;
  const missing = paragraph(filled(words[lacking ? "chain.missing" : "chain.whole"] ?? "", { digests: named(chain.missing) }));
  const last = paragraph(filled(words["chain.last"] ?? "", { digests: named(chain.heads) }));
  missing.dataset["verifyMissing"] = "";
  last.dataset["verifyLast"] = "";
  return [...(door ? [name] : []), missing, last];
}

function nameOf(digest: string, names: ReadonlyMap<string, string>, words: Words): string {
  const name = names.get(digest);
  const short = grouped(digest.slice(0, SHORT));
  return name ? filled(words["chain.name"] ?? "", { name, digest: short }) : short;
}

function fill(item: HTMLElement, what: Told): void {
  item.dataset["verdict"] = what.mark.replace(" ", "-");
  part(item, "mark").replaceChildren(markOf(what.mark));
  part(item, "word").textContent = what.word;
  part(item, "says").replaceChildren(...what.says.map(paragraph));
  const todo = part(item, "do");
  todo.textContent = what.todo ?? "";
  todo.toggleAttribute("hidden", !what.todo);
  part(item, "facts").replaceChildren(...what.facts.flatMap(termed));
  part(item, "more").toggleAttribute("hidden", what.facts.length === 0);
}

function termed(fact: Fact): HTMLElement[] {
  const name = document.createElement("dt");
  const value = document.createElement("dd");
  name.textContent = fact.name;
  value.textContent = fact.value;
  value.toggleAttribute("data-digits", fact.digits);
  return [name, value];
}

function paragraph(text: string): HTMLElement {
  const made = document.createElement("p");
  made.textContent = text;
  return made;
}

function markOf(mark: Mark): Node {
  const kept = document.querySelector<HTMLTemplateElement>(`template[data-mark="${mark}"]`);
  return kept ? kept.content.cloneNode(true) : document.createTextNode("");
}

function cut(name: string): HTMLElement {
  const kept = document.querySelector<HTMLTemplateElement>(`template[data-verify="${name}"]`);
  const made = kept?.content.firstElementChild?.cloneNode(true);
  if (!(made instanceof HTMLElement)) throw new Error(`the page has no ${name}`);
  return made;
}

function part(item: HTMLElement, name: string): HTMLElement {
  const found = item.querySelector<HTMLElement>(`[data-part="${name}"]`);
  if (!found) throw new Error(`${name} is missing`);
  return found;
}
