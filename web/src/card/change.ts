/**
 * What changed since the last record, and which tests that owes: looked up in what the
 * desk gave along.  Nothing is proved here.
 */
import type { Reading } from "./events.ts";
import { KINDS, metres, placeOf, type Fit, type Length } from "./fitting.ts";
import type { Visit } from "./folding.ts";

/** How a row was left, and the tests that are owed where it is found moved. */
export interface LeftAs {
  fitting: string;
  kind: string;
  row: number | null;
  end: string;
  /** From the leaf face, or of a row's end along the opening (m). */
  left: number;
  within: number;
  /** Where along the opening it was read (m); null where that does not matter. */
  place: number | null;
  what: string;
  owes: string[];
}

export interface Change {
  /** The record's number; null where it has none. */
  number: number | null;
  /** Whether the card asks for the tests owed, and for no others. */
  only: boolean;
  owed: { id: string; because: string[] }[];
  /** How many tests rest on nothing that changed. */
  left_out: number;
  left: LeftAs[];
}

/** A reading as found beside how it was left. */
export interface Again {
  left: LeftAs;
  found: number;
  /** How far it moved, and how far apart two readings of it may lie (m). */
  by: number;
  within: number;
  moved: boolean;
}

export interface Why {
  /** Sentences of the desk. */
  because: readonly string[];
  /** Readings of this visit. */
  read: readonly Again[];
}

interface Changing {
  change?: Change;
  fit?: unknown;
}

const NEAR = 0.15; // m: readings of one row this close to each other are of one place
const TOUCH = 1e-9;

/** What was found of rows before anything was touched, beside how they were left. */
export function readAgain(pack: Changing, visit: Visit): Again[] {
  const left = pack.change?.left ?? [];
  const found = new Map<LeftAs, Again>();
  for (const { said } of visit.asFound) {
    if (!("reading" in said)) continue;
    const one = left.find((each) => each.fitting === said.fitting && isOf(pack, each, said.reading));
    const again = one && !found.has(one) ? compared(pack, one, said.reading) : null;
    if (one && again) found.set(one, again);
  }
  return [...found.values()];
}

/** By test that is owed why; those that were owed when the card was taken along first. */
export function owedByChange(pack: Changing, visit: Visit): Map<string, Why> {
  const owed = new Map<string, Why>();
  for (const { id, because } of pack.change?.owed ?? []) owed.set(id, { because, read: [] });
  for (const again of readAgain(pack, visit)) {
    if (!again.moved) continue;
    for (const id of again.left.owes) {
      const before = owed.get(id) ?? { because: [], read: [] };
      owed.set(id, { ...before, read: [...before.read, again] });
    }
  }
  return owed;
}

function isOf(pack: Changing, left: LeftAs, reading: Reading): boolean {
  if (reading.kind !== left.kind || reading["struck"]) return false;
  if ((reading["row"] ?? null) !== left.row || (reading["end"] ?? "") !== left.end) return false;
  if (left.place === null || left.kind === "row end") return true;
  const along = placeAlong(pack, reading);
  return along === null || Math.abs(along.value - left.place) <= NEAR;
}

function compared(pack: Changing, left: LeftAs, reading: Reading): Again | null {
  const figure = left.kind === "row end" ? placeAlong(pack, reading) : metres(reading["out"]);
  const kind = KINDS[left.kind];
  if (!figure || !kind) return null;
  const usual = (pack.fit as Fit | null)?.read_within[kind] ?? 0;
  const within = left.within + (figure.within || usual);
  const by = figure.value - left.left;
  return { left, found: figure.value, by, within, moved: Math.abs(by) > within + TOUCH };
}

function placeAlong(pack: Changing, reading: Reading): Length | null {
  const fit = pack.fit as Fit | null;
  return fit ? placeOf(fit, reading) : null;
}
