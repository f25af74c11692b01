/** What a check found, in the page's words: nothing but sentences, no page. */
import type { Table } from "../record/canonical.ts";
import type { Verified } from "../record/verifying.ts";
import type { Where } from "../record/sealing.ts";

export type Words = Readonly<Record<string, string>>;
export type State = "unchanged" | "unknown" | "withdrawn" | "changed" | "unusable";
export type Mark = "holds" | "not shown" | "fails" | "not asked";

export interface Fact {
  readonly name: string;
  readonly value: string;
  /** Whether it is a row of digits, to be compared one by one. */
  readonly digits: boolean;
}

export interface Told {
  readonly mark: Mark;
  readonly word: string;
  readonly says: readonly string[];
  readonly todo: string | null;
  readonly facts: readonly Fact[];
}

const MARKS: Readonly<Record<State, Mark>> = {
  unchanged: "holds",
  unknown: "not shown",
  withdrawn: "not shown",
  changed: "fails",
  unusable: "not asked",
};
const DO: Readonly<Partial<Record<State, string>>> = {
  unknown: "do.unknown",
  withdrawn: "do.withdrawn",
  changed: "do.changed",
  unusable: "do.unusable",
};
const MOST = 200; // megabytes, LARGEST
const FACTS = ["site", "name", "number", "claimed"] as const;
const GROUP = 4; // digits that one reads out in a breath

/** Whether a file that failed bears what looks like a seal: then it was one, and is changed. */
export function stateOf(found: Verified, sealed: boolean): State {
  if (!found.unchanged) return found.where === "size" || (found.where === "form" && !sealed) ? "unusable" : "changed";
  if (found.signer?.withdrawn) return "withdrawn";
  return found.signer?.known ? "unchanged" : "unknown";
}

/** Of a PDF the record inside, if there is one, and its digest. */
export interface Inside {
  readonly record: Table | null;
  readonly carried: string;
}

export function told(found: Verified, state: State, words: Words, inside: Inside, day: (iso: string) => string): Told {
  const record = found.record ?? inside.record;
  const claimed = textOf(record, "claimed").slice(0, 10);
  const key = state === "unchanged" && claimed ? "unchanged_on" : saysOf(state, found.where);
  const slots = {
    device: found.signer?.device ?? "",
    firm: found.signer?.firm ?? "",
    day: day(found.signer?.withdrawn ?? claimed),
    most: String(MOST),
  };
  const says = [filled(words[`says.${key}`] ?? "", slots)];
  if (found.unchanged) says.push(words["says.not_door"] ?? "");
  const todo = DO[state];
  return {
    mark: MARKS[state],
    word: words[`word.${state}`] ?? "",
    says,
    todo: todo ? (words[todo] ?? "") : null,
    facts: factsOf(found, words, record, inside.carried),
  };
}

/** A sentence with its gaps filled. */
export function filled(sentence: string, slots: Readonly<Record<string, string>>): string {
  return sentence.replace(/\{(\w+)\}/g, (gap, name: string) => slots[name] ?? gap);
}

/** Digits in groups, as one reads them out. */
export function grouped(digits: string): string {
  return digits.replace(new RegExp(`(.{${GROUP}})(?=.)`, "g"), "$1 ");
}

/** What somebody typed or scanned of a digest, without what stands between its digits. */
export function typedDigest(typed: string): string {
  const digits = typed.toLowerCase().match(/[0-9a-f]{64}/)?.[0];
  return digits ?? typed.toLowerCase().replace(/[\s:.–-]/g, "");
}

function saysOf(state: State, where: Where): string {
  if (state === "unchanged" || state === "unknown" || state === "withdrawn") return state;
  return where || "form";
}

function factsOf(found: Verified, words: Words, record: Table | null, carried: string): Fact[] {
  const facts: Fact[] = FACTS.map((key) => ({ name: key, value: textOf(record, key), digits: false }));
  if (found.digest) facts.push({ name: "digest", value: grouped(found.digest), digits: true });
  if (carried) facts.push({ name: "carried", value: grouped(carried), digits: true });
  if (found.signer) {
    facts.push({ name: "key", value: grouped(found.signer.key), digits: true });
    facts.push({ name: "firm_key", value: grouped(found.signer.firmKey), digits: true });
  }
  return facts.filter((one) => one.value).map((one) => ({ ...one, name: words[`fact.${one.name}`] ?? one.name }));
}

function textOf(record: Table | null, key: string): string {
  const value = record?.[key];
  return typeof value === "string" || typeof value === "number" ? String(value) : "";
}
