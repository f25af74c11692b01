/**
 * What is tapped at a door: an event, kept at once and never changed. A visit is what
 * its events say together.
 */

export type Answer = "stayed open" | "touched" | "lamp only" | "cannot";
export type Tool = "body" | "carton" | "leg";
export type HowFound = "new" | "existing" | "called out";
export type Budget = "yearly" | "acceptance" | "after repair";
export type State = "in use" | "in use with defects" | "out of use";

/** A point of a stroke, in pixels of the field that was written in. */
export type Point = readonly [number, number];
export type Strokes = readonly (readonly Point[])[];

export const ANSWERS: readonly Answer[] = ["stayed open", "touched", "lamp only", "cannot"];
export const TOOLS: readonly Tool[] = ["body", "carton", "leg"];

/** One reading as the readings file has it, every length with its unit. */
export type Reading = Readonly<Record<string, string | number | boolean>> & { kind: string };

/** What was read: of a row, where a lens was taped, or a value of the doorway. */
export type Read =
  | { fitting: string; reading: Reading }
  | { fitting: string; lens: Readonly<Record<string, string>> }
  | { key: string; value: string };

/** What an event of a kind says. */
export interface Says {
  started: { found: HowFound; person: string; budget: Budget; version: number; digest: string };
  precaution: { step: string };
  as_found: Read;
  reading: Read;
  step: { step: string; answer: Answer; because?: string; tool?: Tool };
  photo: { name: string; sha256: string; bytes: number; width: number; height: number; of?: string };
  work: { step: string; done: true; note?: string };
  note: { text: string };
  /** `call`: of which call-out at the desk it was taken over. */
  traced: { question: string; answer: string; call?: string };
  defect: { text: string; told?: string; photo?: string };
  handed_over: { state: State; told?: string; signature: Strokes };
  undone: { event: string };
  settled: { between: string[]; stands: string; person: string };
  sealed: { digest: string; key: string; by: "device" | "desk" };
}

export type Kind = keyof Says;

/** Something said, before the store gives it its place among the others. */
export type Draft = { [K in Kind]: { kind: K; said: Says[K] } }[Kind];

/** To which visit of which doorway it belongs. */
export interface Of {
  visit: string;
  site: string;
  doorway: string;
}

export type Event = Draft &
  Of & {
    id: string;
    device: string;
    /** From 1, without a gap on each device. */
    seq: number;
    /** What the device's clock said: a claim. Nothing is put in order by it on one device. */
    at: string;
  };

/** A moment as events write it: whole seconds, in universal time. */
export function moment(when: Date): string {
  return `${when.toISOString().slice(0, 19)}Z`;
}
