/**
 * The small fit: how a unit hangs by what was read on the floor, which reading is wrong,
 * and what to turn. No proof is made here: where a row must land comes with the pack.
 */
import type { Reading } from "./events.ts";
import { ALONG, at, ACROSS, HEIGHT, rowSlopes, SHARE, TILT, YAW, ROLL, type Kind, type Taken } from "./fitting_expecting.ts";
import { agree, apart, begin, determined, explanations, nearest, numbersOf, suspects, TOLD_APART, type Explained, type Known, type Usual } from "./fitting_resolving.ts";

/** What is known of a unit before it is read, as the pack has it. */
export interface FitUnit {
  fitting: string;
  turned: boolean;
  face: number;
  rows: number[];
  rows_on: number[];
  low: number | null;
  ways: { fans: number[][]; by_angle: boolean; share: boolean }[];
  lens: number[];
  within: (number | null)[];
  tilt: number;
  usual: [number | null, number, number];
  angle_error: number;
  evenness: number;
  step: number | null;
}

export interface Fit {
  units: FitUnit[];
  /** Half the clear width, and its own doubt (m). */
  half: number;
  half_within: number;
  read_within: Record<Kind, number>;
  along_line: number;
}

/** Where a first row must land, from the leaf face (m). */
export interface Target {
  fitting: string;
  row: number;
  least: number;
  best: number;
  most: number;
}

export interface Fitted {
  /** One pose; too few readings; several that fit; or readings that do not agree. */
  outcome: "fitted" | "too few" | "tied" | "at odds";
  pose: number[] | null;
  spread: number[] | null;
  misfit: number | null;
  /** Readings of which one is wrong, by their place among those of the unit, from 1. */
  wrong: number[];
  /** Where the first row lands in its middle, from the leaf face (m). */
  lands: number | null;
}

/** What to turn: by how much on the floor (m), and in whole steps of the scale. */
export interface Turning {
  by: number;
  turn: number;
  steps: number | null;
  /** Where the row lands after whole steps. */
  then: number | null;
  inWindow: boolean;
}

export const KINDS: Record<string, Kind> = { "spot centre": "spot", "row line": "line", "row end": "end", "box edge in": "in", "box edge out": "out" };
const [MOST_TURNED, MOST_TILTED] = [Math.PI / 9, (2 * Math.PI) / 9];
const [LOWEST, HIGHEST, FURTHEST] = [0.8, 8, 3];
const FAN_LEFT = 0.01;
const HAIR = 1e-9;
/** Costs closer than this are alike: what parts them is the last digit of a sum. */
const ALIKE = 1e-6;

interface Way {
  readonly known: Known;
  readonly number: number;
  readonly explained: Explained;
}

/** How a unit hangs by its readings in the doorway's frame. */
export function fitted(unit: FitUnit, taken: readonly Taken[]): Fitted {
  const usual: Usual = { tilt: unit.usual[0], level: unit.usual[1], scale: unit.usual[2] };
  const each = knownOf(unit);
  if (!enough(each[0], taken)) return result("too few", null, unit);
  const ways = each.flatMap((known, number) => explanations(known, taken, usual).map((explained): Way => ({ known, number, explained })));
  ways.sort((a, b) => a.explained.cost - b.explained.cost);
  if (!ways.length) return result("too few", null, unit);
  const agreeing = ways.filter(({ explained }) => agree(explained.hanging) && possible(unit, explained));
  const best = bestOf(agreeing);
  if (!best) return atOdds(unit, each, taken, usual);
  const likely = agreeing.filter((way) => way.explained.cost - best.explained.cost < TOLD_APART);
  return likely.some((way) => differs(best, way)) ? result("tied", null, unit) : result("fitted", best.explained, unit);
}

/** The likeliest way; of those as likely the first by the order of the manual. */
function bestOf(ways: readonly Way[]): Way | null {
  const least = ways[0]?.explained.cost ?? Infinity;
  const alike = ways.filter(({ explained }) => explained.cost - least < ALIKE);
  return alike.reduce<Way | null>((best, way) => (best && best.number <= way.number ? best : way), null);
}

/** Whether the readings determine how a unit hangs, taken as they are nearest by the plan. */
function enough(known: Known | undefined, taken: readonly Taken[]): boolean {
  if (!known) return false;
  const pose = begin(known);
  return determined(known, nearest(known.curtain, taken, pose).numbered, pose);
}

/** Which reading is wrong, where that can be said; and how it hangs by the others. */
function atOdds(unit: FitUnit, each: readonly Known[], taken: readonly Taken[], usual: Usual): Fitted {
  let [least, picked] = [Infinity, result("at odds", null, unit)];
  for (const known of each) {
    const found = suspects(known, taken, usual);
    const first = found[0]?.others[0];
    if (!first || first.cost >= least - ALIKE) continue;
    least = first.cost;
    const alone = found.length === 1 && !found[0]?.others.slice(1).some((one) => apart(first, one));
    picked = { ...result("at odds", alone ? first : null, unit), wrong: found.map((one) => one.number) };
  }
  return picked;
}

/** Whether another reading of the manual, or other numbers, give another pose. */
function differs(best: Way, way: Way): boolean {
  if (way.number === best.number || numbersOf(way.explained) !== numbersOf(best.explained)) return apart(best.explained, way.explained);
  const off = [TILT, ROLL, YAW].map((k) => Math.abs(at(best.explained.hanging.pose, k) - at(way.explained.hanging.pose, k)));
  return Math.max(...off) * (way.known.lens[2] as number) > FAN_LEFT;
}

/** Whether a unit can hang so at all. */
function possible(unit: FitUnit, { hanging: { pose } }: Explained): boolean {
  const out = (unit.turned ? -1 : 1) * at(pose, ACROSS) - unit.face;
  const turned = Math.max(Math.abs(at(pose, ROLL)), Math.abs(at(pose, YAW)));
  return turned <= MOST_TURNED && Math.abs(at(pose, TILT)) <= MOST_TILTED && at(pose, HEIGHT) >= LOWEST && at(pose, HEIGHT) <= HIGHEST && out >= 0 && out <= FURTHEST;
}

function result(outcome: Fitted["outcome"], one: Explained | null, unit: FitUnit): Fitted {
  const { pose = null, spread = null, misfit = null } = one?.hanging ?? {};
  return { outcome, pose, spread, misfit, wrong: [], lands: pose && landsAt(unit, pose, at(pose, TILT)) };
}

function landsAt(unit: FitUnit, pose: readonly number[], tilt: number): number {
  return (unit.turned ? -1 : 1) * at(pose, ACROSS) + at(pose, HEIGHT) * Math.tan(tilt + (unit.rows[0] as number)) - unit.face;
}

export function knownOf(unit: FitUnit): Known[] {
  return unit.ways.map(({ fans, by_angle, share }) => ({
    curtain: { turned: unit.turned, rows: unit.rows, fans, rowsOn: unit.rows_on, byAngle: by_angle, low: unit.low },
    lens: unit.lens,
    taped: unit.within.map((within) => (within === null ? null : within / Math.sqrt(3))),
    tilt: unit.tilt,
    angleError: unit.angle_error,
    evenness: unit.evenness,
    share,
  }));
}

/** Where the first row's ends lie, from the middle of the opening (m): left, right. */
export function rowEnds(unit: FitUnit, pose: readonly number[]): [number, number] {
  const [first] = knownOf(unit);
  const xs = first ? rowSlopes(first.curtain, [...pose.slice(0, SHARE), pose[SHARE] ?? 1], 0).map(([gx]) => at(pose, ALONG) + at(pose, HEIGHT) * gx) : [];
  return [Math.min(...xs), Math.max(...xs)];
}

/** What to turn so that the first row lands on its line. */
export function turning(unit: FitUnit, pose: readonly number[], target: Target): Turning {
  const tilt = at(pose, TILT);
  const was = landsAt(unit, pose, tilt);
  const run = target.best + unit.face - (unit.turned ? -1 : 1) * at(pose, ACROSS);
  const turn = Math.atan2(run, at(pose, HEIGHT)) - (unit.rows[0] as number) - tilt;
  const { steps, then } = inSteps(unit, pose, turn, target.best);
  const lands = then ?? target.best;
  return { by: target.best - was, turn, steps, then, inWindow: lands >= target.least - HAIR && lands <= target.most + HAIR };
}

/** Whole steps of the scale, and where the row lands after them. */
function inSteps(unit: FitUnit, pose: readonly number[], turn: number, best: number): { steps: number | null; then: number | null } {
  const { step } = unit;
  if (step === null) return { steps: null, then: null };
  const [down, up] = [Math.floor(turn / step), Math.ceil(turn / step)].map((steps) => ({ steps, then: landsAt(unit, pose, at(pose, TILT) + steps * step) })) as [Stepped, Stepped];
  return Math.abs(up.then - best) < Math.abs(down.then - best) ? up : down;
}

interface Stepped {
  steps: number;
  then: number;
}

/** Readings as they were typed at the door, in the doorway's frame; null where one is not one. */
export function takenOf(fit: Fit, unit: FitUnit, readings: readonly Reading[]): (Taken | null)[] {
  return readings.map((one, k) => takenOne(fit, unit, one, k + 1));
}

function takenOne(fit: Fit, unit: FitUnit, one: Reading, number: number): Taken | null {
  const kind = KINDS[one.kind];
  const along = kind && placeOf(fit, one);
  if (!kind || !along) return null;
  const row = typeof one["row"] === "number" ? one["row"] - 1 : null;
  const usual = fit.read_within[kind];
  const base = { number, kind, x: along.value, row, box: 0 };
  if (kind === "end") return { ...base, y: NaN, ux: along.within || usual, uy: 0, spot: one["end"] === "left" ? 0 : -1 };
  const out = metres(one["out"]);
  const height = kind === "in" || kind === "out" ? metres(one["height"]) : { value: 0, within: 0 };
  if (!out || !height) return null;
  const y = (unit.turned ? -1 : 1) * (unit.face + out.value);
  const spot = kind === "spot" && typeof one["spot"] === "number" ? one["spot"] - 1 : null;
  return { ...base, y, ux: along.within || (kind === "spot" ? usual : fit.along_line), uy: out.within || usual, spot, box: height.value };
}

/** Where along the opening something was read, from its middle. */
export function placeOf(fit: Fit, one: Reading): Length | null {
  const left = metres(one["from_left"]);
  if (left) return { value: left.value - fit.half, within: left.within && left.within + fit.half_within };
  const right = metres(one["from_right"]);
  if (right) return { value: fit.half - right.value, within: right.within && right.within + fit.half_within };
  return metres(one["along"]);
}

export interface Length {
  value: number;
  within: number;
}

const UNITS: Record<string, number> = { mm: 0.001, cm: 0.01, m: 1, in: 0.0254, ft: 0.3048 };
const PART = /^(?:(\d+(?:\.\d+)?)(?:\s+(?=\d+\/))?)?(?:(\d+)\/(\d+))?\s*(mm|cm|m|in|ft)$/;

/** A length as the card writes it: `540 mm`, `21 1/4 in`, `540 mm ± 2 mm`. */
export function metres(text: unknown): Length | null {
  if (typeof text !== "string") return null;
  const [size = "", within] = text.split("±").map((part) => part.trim());
  const minus = /^[-−]/.test(size);
  const [value, doubt] = [oneLength(size.replace(/^[-−+]\s*/, "")), within === undefined ? 0 : oneLength(within)];
  return value === null || doubt === null ? null : { value: minus ? -value : value, within: doubt };
}

function oneLength(text: string): number | null {
  const found = PART.exec(text);
  if (!found || (found[1] === undefined && found[2] === undefined)) return null;
  const part = found[2] === undefined ? 0 : Number(found[2]) / Number(found[3]);
  return (Number(found[1] ?? 0) + part) * (UNITS[found[4] as string] as number);
}
