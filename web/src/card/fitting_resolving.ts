/**
 * Which beams readings met, how the unit hangs by that, and which reading is wrong: the
 * desk's law (physics/readings: hanging, resolving, suspecting).
 */
import { ACROSS, ALONG, at, expected, frames, HEIGHT, isBox, metBy, resolved, ROLL, shown, spreads, TILT, YAW, type Curtain, type Pose, type Taken } from "./fitting_expecting.ts";
import { chanceAbove, covarianceOf, derivatives, leastSquares, looseness, square, type Terms } from "./fitting_solving.ts";

/** What is known of a unit before its readings. */
export interface Known {
  readonly curtain: Curtain;
  /** Where the lens was taped, x, y, h (m); where to begin if it was not. */
  readonly lens: readonly number[];
  /** Standard uncertainty of each (m); null where it was not taped. */
  readonly taped: readonly (number | null)[];
  readonly tilt: number;
  readonly angleError: number;
  readonly evenness: number;
  /** Whether the width of the rows is to be fitted too. */
  readonly share: boolean;
}

/** How units hang: the tilt of the scale, how closely level, how closely the scale is set (rad). */
export interface Usual {
  readonly tilt: number | null;
  readonly level: number;
  readonly scale: number;
}

export interface Hanging {
  readonly pose: number[];
  /** Standard uncertainty of each free parameter. */
  readonly spread: number[];
  readonly misfit: number;
  readonly spare: number;
}

/** One way to understand all readings. */
export interface Explained {
  readonly taken: readonly Taken[];
  readonly hanging: Hanging;
  readonly cost: number;
}

export interface Suspect {
  readonly number: number;
  readonly others: Explained[];
}

const LOOSEST_ANGLE = Math.PI / 180;
const LOOSEST_PLACE = 0.05;
const LOOSEST_SHARE = 0.05;
const LEAST_READINGS = 3;
export const TOLD_APART = 2 * Math.log(1000);
const MOST_COMBINED = 64;
const APART = 2;
const LIKELY = 10;
const ROUNDS = 6;
const PITCHES = [-2, -1, 0, 1, 2];
const ALARM = 0.001;
const NAMED_APART = 2 * Math.log(10);
const LEAST_TO_NAME = 5;

function free(known: Known): number {
  return known.share ? 7 : 6;
}

export function begin(known: Known): number[] {
  return [known.tilt, 0, 0, ...known.lens, 1];
}

/** The pose that fits resolved readings best; readings that determine it. */
export function hang(known: Known, taken: readonly Taken[]): Hanging {
  let pose = begin(known);
  for (let round = 0; round < 2; round++) pose = leastSquares(termsOf(known, taken, pose), pose, free(known));
  const terms = termsOf(known, taken, pose);
  const covariance = covarianceOf(derivatives(terms, pose, free(known)));
  const left = terms(pose);
  const spread = covariance.map((row, k) => Math.sqrt(row[k] as number));
  return { pose, spread, misfit: square(left), spare: left.length - free(known) };
}

/** Whether readings, with what was taped, leave one pose and not many. */
export function determined(known: Known, taken: readonly Taken[], pose: Pose): boolean {
  if (taken.length < LEAST_READINGS) return false;
  const limits = [LOOSEST_ANGLE, LOOSEST_ANGLE, LOOSEST_ANGLE, LOOSEST_PLACE, LOOSEST_PLACE, LOOSEST_PLACE, LOOSEST_SHARE];
  const jacobian = derivatives(termsOf(known, taken, pose), pose, free(known));
  return looseness(jacobian, free(known)).every((spread, k) => spread <= (limits[k] as number));
}

/** What is squared and summed, as a function of the pose. */
function termsOf(known: Known, taken: readonly Taken[], about: Pose): Terms {
  const sizes = spreads(known.curtain, about, taken, known.angleError, known.evenness);
  const read = shown(taken);
  const lens = known.taped.flatMap((spread, k) => (spread === null ? [] : [{ which: ALONG + k, value: known.lens[k] as number, spread }]));
  return (pose) => [
    ...expected(known.curtain, pose, taken).map((value, k) => (value - (read[k] as number)) / (sizes[k] as number)),
    ...lens.map(({ which, value, spread }) => (at(pose, which) - value) / spread),
  ];
}

/** Whether readings agree with each other, as closely as they were taped. */
export function agree({ misfit, spare }: Hanging): boolean {
  return spare <= 0 || chanceAbove(misfit, spare) >= ALARM;
}

/** Whether two explanations give poses that differ by more than their doubt. */
export function apart(one: Explained, other: Explained): boolean {
  return [TILT, ROLL, YAW].some((k) => Math.abs(at(one.hanging.pose, k) - at(other.hanging.pose, k)) > APART * at(one.hanging.spread, k));
}

export function numbersOf(one: Explained): string {
  return one.taken.map(({ number, row, spot }) => `${number}:${row}:${spot}`).join(" ");
}

/** Every way to understand the readings that is about as likely as the best. */
export function explanations(known: Known, taken: readonly Taken[], usual: Usual): Explained[] {
  const found = new Map<string, Explained>();
  for (const numbered of numberings(known, taken, usual)) {
    const one = explained(known, numbered, usual);
    if (one && !found.has(numbersOf(one))) found.set(numbersOf(one), one);
  }
  const ranked = [...found.values()].sort((a, b) => a.cost - b.cost);
  const least = ranked[0]?.cost ?? Infinity;
  return ranked.filter((one) => one.cost - least < TOLD_APART);
}

/** The readings of which one is wrong, the likeliest first. */
export function suspects(known: Known, taken: readonly Taken[], usual: Usual): Suspect[] {
  if (taken.length < LEAST_TO_NAME) return [];
  const found = taken.flatMap((one) => {
    const others = explanations(known, taken.filter((other) => other !== one), usual);
    return others[0] && agree(others[0].hanging) ? [{ number: one.number, others }] : [];
  });
  const cost = (one: Suspect | undefined) => one?.others[0]?.cost ?? Infinity;
  found.sort((a, b) => cost(a) - cost(b));
  return found.filter((one) => cost(one) - cost(found[0]) < NAMED_APART);
}

function explained(known: Known, taken: readonly Taken[], usual: Usual): Explained | null {
  if (!determined(known, taken, begin(known))) return null;
  const hanging = hang(known, taken);
  if (!determined(known, taken, hanging.pose)) return null;
  return { taken, hanging, cost: hanging.misfit + unusual(usual, hanging.pose) };
}

/** How unusual a pose is: the sum of its squares, in half-widths over root 3. */
function unusual({ tilt, level, scale }: Usual, pose: Pose): number {
  const cost = (3 * (at(pose, ROLL) ** 2 + at(pose, YAW) ** 2)) / level ** 2;
  return tilt === null ? cost : cost + (3 * (at(pose, TILT) - tilt) ** 2) / (level + scale) ** 2;
}

/** Ways to number what is open: all of them, or from likely poses only. */
function numberings(known: Known, taken: readonly Taken[], usual: Usual): Taken[][] {
  if (taken.every(resolved)) return [[...taken]];
  const seen = new Map<string, Taken[]>();
  for (const rowed of rowings(known, taken)) {
    const starts = startsOf(known, rowed, usual).map((pose) => ({ pose, off: nearest(known.curtain, rowed, pose).off }));
    starts.sort((a, b) => a.off - b.off);
    for (const { pose } of starts.slice(0, LIKELY)) {
      const numbered = settled(known, rowed, pose);
      const key = keyOf(numbered);
      if (!seen.has(key)) seen.set(key, numbered);
    }
  }
  return [...seen.values()];
}

function keyOf(taken: readonly Taken[]): string {
  return taken.map(({ row, spot }) => `${row}:${spot}`).join(" ");
}

/** The readings with every open line numbered, as far as that can be gone through. */
function rowings(known: Known, taken: readonly Taken[]): Taken[][] {
  const rows = known.curtain.rowsOn;
  const open = taken.flatMap((one, place) => (one.row === null && one.kind === "line" ? [place] : []));
  const spots = taken.some((one) => one.kind === "spot" && !resolved(one));
  if (spots || rows.length ** open.length > MOST_COMBINED) return [[...taken]];
  let ways: Taken[][] = [[...taken]];
  for (const place of open) ways = ways.flatMap((way) => rows.map((row) => way.map((one, k) => (k === place ? { ...one, row } : one))));
  return ways;
}

/** Poses from which open spots, and rows that are left open, are numbered. */
function startsOf(known: Known, taken: readonly Taken[], usual: Usual): number[][] {
  const tilts = [...new Set(tiltsOf(known, taken).map(thousandths))];
  return (tilts.length ? tilts : [usual.tilt ?? known.tilt]).flatMap((tilt) => {
    const pose = begin(known);
    pose[TILT] = tilt;
    return rolls(known, taken, pose).map((roll) => pose.map((value, k) => (k === ROLL ? roll : value)));
  });
}

/** Rounded to a thousandth, a half to the even one. */
function thousandths(value: number): number {
  const scaled = value * 1000;
  const down = Math.floor(scaled);
  const half = scaled - down === 0.5;
  return (half ? (down % 2 === 0 ? down : down + 1) : Math.round(scaled)) / 1000;
}

/** Tilts at which a row passes where something was read, unturned otherwise. */
function tiltsOf(known: Known, taken: readonly Taken[]): number[] {
  const [, y = 0, h = 1] = known.lens;
  const away = known.curtain.turned ? -1 : 1;
  return taken.flatMap((one) => {
    if (one.kind === "end" || isBox(one)) return [];
    const rows = one.row === null ? known.curtain.rowsOn : [one.row];
    return rows.map((row) => Math.atan((away * (one.y - y)) / h) - (known.curtain.rows[row] as number));
  });
}

/** Rolls at which some spot lies where an open one was read. */
function rolls(known: Known, taken: readonly Taken[], pose: Pose): number[] {
  const open = taken.find((one) => one.kind === "spot" && one.spot === null);
  if (!open) return [0];
  const { curtain } = known;
  const fan = [...(curtain.fans[open.row ?? curtain.rowsOn[0] ?? 0] ?? [])].sort((a, b) => a - b);
  const slope = ((open.x - at(pose, ALONG)) / at(pose, HEIGHT)) * (curtain.turned ? -1 : 1);
  const off = fan.map((angle) => Math.abs(Math.tan(angle) - slope));
  const closest = off.indexOf(Math.min(...off));
  const spots = new Set(PITCHES.map((pitch) => Math.min(Math.max(closest + pitch, 0), fan.length - 1)));
  return [...spots].sort((a, b) => a - b).map((spot) => (fan[spot] as number) - Math.atan(slope));
}

/** What is open numbered by the nearest beam, and again by the pose that follows. */
function settled(known: Known, taken: readonly Taken[], pose: Pose): Taken[] {
  let numbered = nearest(known.curtain, taken, pose).numbered;
  if (keyOf(numbered) === keyOf(taken)) return numbered;
  for (let round = 0; round < ROUNDS; round++) {
    if (![pose, begin(known)].every((from) => determined(known, numbered, from))) return numbered;
    const again = nearest(known.curtain, taken, hang(known, numbered).pose).numbered;
    if (keyOf(again) === keyOf(numbered)) return numbered;
    numbered = again;
  }
  return numbered;
}

/** What is open numbered by the nearest beam, and the squares of all distances. */
export function nearest(curtain: Curtain, taken: readonly Taken[], pose: Pose): { numbered: Taken[]; off: number } {
  const each = frames(curtain, pose);
  const distance = (one: Taken) => {
    const { gx, gy, z } = metBy(curtain, pose, one, each);
    const drop = at(pose, HEIGHT) - z;
    const x = one.kind === "spot" || one.kind === "end" ? at(pose, ALONG) + drop * gx - one.x : 0;
    const y = one.kind === "end" ? 0 : at(pose, ACROSS) + drop * gy - one.y;
    return x * x + y * y;
  };
  const numbered = taken.map((one) => (resolved(one) ? one : closest(choices(curtain, one), distance)));
  return { numbered, off: numbered.reduce((sum, one) => sum + distance(one), 0) };
}

function closest(all: readonly Taken[], distance: (one: Taken) => number): Taken {
  return all.reduce((best, one) => (distance(one) < distance(best) ? one : best));
}

function choices(curtain: Curtain, one: Taken): Taken[] {
  const rows = one.row === null ? curtain.rowsOn : [one.row];
  return rows.flatMap((row) => {
    if (one.kind !== "spot" || one.spot !== null) return [{ ...one, row }];
    return (curtain.fans[row] ?? []).map((_, spot) => ({ ...one, row, spot }));
  });
}
