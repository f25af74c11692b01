/** What the desk gives along for one doorway: texts, drawings, tests, what may be wrong. */
import type { Change } from "./change.ts";
import type { Answer, Budget, HowFound, Tool } from "./events.ts";
import type { Guess } from "./scoring.ts";
import type { Asking, Cause as Tabled, Tables } from "./tracing.ts";

/** Where a body stands: its middle in the doorway's frame (m), turned by `yaw` (rad). */
export interface Place {
  x: number;
  y: number;
  yaw: number;
  width: number;
  depth: number;
  height: number;
  face: string;
  /** The nearer post, and how far the box's nearest point is from it (m). */
  post: "left" | "right" | null;
  far: number;
}

export interface Cause {
  cause: string;
  turn: string;
  /** Tests that are owed once this was turned. */
  again: string[];
  /** After which answers it is likely. */
  after: Answer[];
}

export interface Test {
  id: string;
  minimum: boolean;
  minutes: number;
  title: string;
  says: string;
  why: string;
  place: Place | null;
  tools: Tool[];
  if_failed: Cause[];
  /** The test whose causes are this one's too; left out where it has its own. */
  like?: string;
  /** How long to wait and look (s); left out where nothing is timed. */
  seconds?: number;
  /** What the answers mean here, where nothing is said of a box. */
  answers?: Partial<Record<Answer, string>>;
}

export interface Work {
  id: string;
  title: string;
  says: string;
  /** Of which doors it is asked; elsewhere it is there to be used. */
  found: HowFound[];
  /** Whether it comes after the tests. */
  after: boolean;
  /** How long to stay away (s), so that the unit learns. */
  seconds?: number;
}

/** A question of the fault finder in the reader's words, and what to heed first. */
export interface Question extends Asking {
  asks: string;
  words: Record<string, string>;
  warns: string[];
}

/** A cause: its words, what to do, the tests that are owed then. */
export interface Suspect extends Tabled {
  named: string;
  do: string;
  owed: string;
  again: string[];
}

/** The fault finder, the doorway's own figures weighed in. */
export interface Trace extends Tables<Question, Suspect> {
  struck: string;
  struck_do: string;
  told?: Told;
}

/** What the desk was told before anybody went to the door. */
export interface Told {
  /** The call-out at the desk. */
  call: string;
  /** When, and who noted it. */
  says: string;
  answers: Readonly<Record<string, string>>;
  /** What was taken to be the cause there. */
  cause: string | null;
}

/** The plan without words, and where the doorway's frame lies in it. */
export interface Ground {
  svg: string;
  says: string;
  zero: [number, number];
  /** Drawing units a metre. */
  scale: number;
  /** The posts, from the middle of the opening (m). */
  posts: [number, number];
}

export interface Unit {
  id: string;
  name: string;
}

export interface Pack {
  schema: 1;
  limen: string;
  site: string;
  doorway: string;
  name: string;
  version: number;
  digest: string;
  made: string;
  rulebook: unknown;
  /** All that a record says before anybody goes to the door. */
  record: Record<string, unknown>;
  drawings: { plan: string; section: string; front: string };
  targets: { says?: string }[];
  work: Work[];
  tests: Test[];
  guess: Guess;
  /** Left out of packs that were made before there was one. */
  trace?: Trace;
  budgets: Record<Budget, { steps: number; minutes: number }>;
  fit: unknown;
  last: unknown;
  parents: string[];
  words: Record<string, string>;
  /** What changed since the last record; left out where there is none. */
  change?: Change;
  /** What the desk adds for the page. */
  card: { site: string; ground: Ground | null; units: Unit[]; language: string; feet: boolean };
}

export const SCHEMA = 1;

/** What is likely wrong where a test failed. */
export function causesOf(pack: { tests: readonly Test[] }, test: Test): Cause[] {
  const like = test.like && pack.tests.find((one) => one.id === test.like);
  return like ? like.if_failed : test.if_failed;
}

/** By which a pack is kept and named in an address. */
export function keyOf(pack: { site: string; doorway: string }): string {
  return `${pack.site}/${pack.doorway}`;
}

/** Whether an answer of the desk is a pack that this card can read. */
export function isPack(value: unknown): value is Pack {
  const one = value as Partial<Pack> | null;
  return (
    one !== null &&
    typeof one === "object" &&
    one.schema === SCHEMA &&
    [one.site, one.doorway, one.name].every((text) => typeof text === "string" && text !== "") &&
    Array.isArray(one.tests) &&
    Array.isArray(one.work) &&
    typeof one.card === "object"
  );
}
