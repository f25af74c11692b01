/**
 * Which test tells most a minute about whether there is a place nobody is seen at. The
 * same arithmetic as `limen.prove.scoring`; both are held to the same vectors. Nothing
 * of it is shown: it brings tests into an order.
 */
import type { Tool } from "./events.ts";

/** How often the door stays open for a body that is reached, and for one that is missed. */
export type Trust = readonly [reached: number, missed: number];

/** Ways in which the doorway may be, as the desk guessed them. */
export interface Guess {
  /** How likely each way is. */
  readonly weights: readonly number[];
  /** Whether a body is missed somewhere in it. */
  readonly hole: readonly number[];
  /** By test, in which ways the body is reached where it is put; null without a place. */
  readonly reached: readonly (string | null)[];
  /** By test, the room as planned (m); null where nobody knows. */
  readonly room?: readonly (number | null)[];
  readonly sure: Readonly<Record<Tool, Trust>>;
}

/** A guess, unpacked once. */
export interface Known {
  readonly weights: Float64Array;
  readonly hole: Uint8Array;
  readonly reached: readonly (Uint8Array | null)[];
  readonly minutes: readonly number[];
  readonly room: readonly number[];
  readonly sure: Readonly<Record<Tool, Trust>>;
}

export interface Answer {
  readonly test: number;
  /** Whether the unit answered: the door stayed open, opened again, or the lamp came on. */
  readonly good: boolean;
  readonly tool: Tool;
}

export type Reason = "least room" | "shows most" | "how far" | "spread";

export interface Suggestion {
  /** The number of the test; null if none is left. */
  readonly test: number | null;
  readonly why: Reason;
  /** How many places are still in doubt, of how many that were at first. */
  readonly left: number;
  readonly of: number;
}

export const LEAST = 1e-12; // bit a minute: scores closer than this are alike
export const DOUBTFUL = 2e-3; // a place is in doubt where the body is missed this often
export const CLEARED = 0.25; // left in doubt until missed this much less often

/** Flags from Base64: flag i is bit `i & 7`, the lowest first, of byte `i >> 3`. */
export function flags(text: string, count: number): Uint8Array {
  const bytes = atob(text);
  if (bytes.length !== Math.ceil(count / 8)) throw new RangeError(`${bytes.length} bytes for ${count} flags`);
  return Uint8Array.from({ length: count }, (_, i) => (bytes.charCodeAt(i >> 3) >> (i & 7)) & 1);
}

/** A guess made ready; `minutes` of each test. */
export function known(guess: Guess, minutes: readonly number[]): Known {
  const count = guess.weights.length;
  const sum = guess.weights.reduce((all, one) => all + one, 0); // they were rounded
  return {
    weights: Float64Array.from(guess.weights, (one) => one / sum),
    hole: Uint8Array.from(guess.hole),
    reached: guess.reached.map((text) => (text === null ? null : flags(text, count))),
    minutes,
    room: guess.reached.map((_, test) => guess.room?.[test] ?? -Infinity),
    sure: guess.sure,
  };
}

/** How likely each way is once a test was answered. */
export function reweighed(weights: Float64Array, reached: Uint8Array, [met, missed]: Trust, good: boolean): Float64Array {
  const likely = weights.map((weight, i) => {
    const said = reached[i] ? met : missed;
    return weight * (good ? said : 1 - said);
  });
  const sum = likely.reduce((all, one) => all + one, 0);
  return likely.map((one) => one / sum);
}

/** How likely each way is after some answers. */
export function weighed(all: Known, answers: readonly Answer[]): Float64Array {
  let weights = all.weights;
  for (const { test, good, tool } of answers) {
    const reached = all.reached[test];
    if (reached) weights = reweighed(weights, reached, all.sure[tool], good);
  }
  return weights;
}

/** What a test is expected to tell of a hole (bit a minute), never below 0. */
export function score(weights: Float64Array, hole: Uint8Array, reached: Uint8Array, minutes: number, [met, missed]: Trust): number {
  let [holed, good, both] = [0, 0, 0];
  for (let i = 0; i < weights.length; i++) {
    const weight = weights[i]!;
    const said = weight * (reached[i] ? met : missed);
    good += said;
    if (hole[i]) {
      holed += weight;
      both += said;
    }
  }
  const after = good * entropy(part(both, good)) + (1 - good) * entropy(part(holed - both, 1 - good));
  return Math.max(0, entropy(holed) - after) / minutes;
}

/** The test that tells most a minute, of those that may be done. */
export function suggested(all: Known, answers: readonly Answer[], may: readonly number[], tool: Tool = "body"): Suggestion {
  const weights = weighed(all, answers);
  const done = new Set(answers.map((answer) => answer.test));
  const { left, of } = doubted(all, weights, done);
  const open = may.filter((test) => !done.has(test) && all.reached[test]);
  const told = open.map((test) => score(weights, all.hole, all.reached[test]!, all.minutes[test] ?? 1, all.sure[tool]));
  const most = Math.max(...told);
  // Where none tells anything, the first: places come in an order that is spread.
  const alike = most > LEAST ? open.filter((_, i) => told[i]! >= most - LEAST) : open.slice(0, 1);
  const room = (test: number): number => all.room[test]!;
  const [first] = alike;
  if (first === undefined) return { test: null, why: "spread", left, of };
  const best = alike.reduce((one, other) => (room(other) < room(one) ? other : one), first);
  return { test: best, why: why(), left, of };

  function why(): Reason {
    if (answers.some((answer) => !answer.good)) return "how far";
    if (Number.isFinite(room(best)) && open.every((test) => room(best) <= room(test))) return "least room";
    return most > LEAST ? "shows most" : "spread";
  }
}

/** How many places are still in doubt, and how many were at first. */
function doubted(all: Known, now: Float64Array, done: ReadonlySet<number>): { left: number; of: number } {
  let [left, of] = [0, 0];
  all.reached.forEach((reached, test) => {
    if (!reached) return;
    const before = missedShare(all.weights, reached);
    if (before < DOUBTFUL) return;
    of += 1;
    if (!done.has(test) && missedShare(now, reached) >= CLEARED * before) left += 1;
  });
  return { left, of };
}

function missedShare(weights: Float64Array, reached: Uint8Array): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) if (!reached[i]) sum += weights[i]!;
  return sum;
}

function part(some: number, whole: number): number {
  return whole > 0 ? Math.min(1, Math.max(0, some / whole)) : 0;
}

function entropy(share: number): number {
  return share > 0 && share < 1 ? -share * Math.log2(share) - (1 - share) * Math.log2(1 - share) : 0;
}
