/**
 * What each reading would show if a unit hung in a given way: the desk's law
 * (physics/readings/expecting.py). A pose is tilt, roll, yaw (rad), the lens x, y, h (m),
 * and how wide the rows are against what is stated.
 */

export const [TILT, ROLL, YAW, ALONG, ACROSS, HEIGHT, SHARE] = [0, 1, 2, 3, 4, 5, 6] as const;

export type Kind = "spot" | "line" | "end" | "in" | "out";
export type Pose = readonly number[];
type Matrix = readonly (readonly [number, number, number])[];

/** The rows of a unit in its own frame. */
export interface Curtain {
  readonly turned: boolean;
  /** Of every row of the sheet (rad). */
  readonly rows: readonly number[];
  /** Fan angles of each row (rad). */
  readonly fans: readonly (readonly number[])[];
  /** Rows that are switched on, from 0. */
  readonly rowsOn: readonly number[];
  /** Whether a share of the width is one of the angles, not of the floor. */
  readonly byAngle: boolean;
  /** Lowest height at which it detects (m); null if not known. */
  readonly low: number | null;
}

/** One reading in the doorway's frame (m); half-widths ux, uy. */
export interface Taken {
  readonly number: number;
  readonly kind: Kind;
  readonly x: number;
  /** NaN for the end of a row. */
  readonly y: number;
  readonly ux: number;
  readonly uy: number;
  readonly row: number | null;
  /** From 0, from the left seen from outside; -1 is the last one. */
  readonly spot: number | null;
  /** Height of the box. */
  readonly box: number;
}

/** The beam that a reading meets: its slopes, and the height at which it is seen. */
export interface Met {
  readonly gx: number;
  readonly gy: number;
  readonly z: number;
}

export function isBox(taken: Taken): boolean {
  return taken.kind === "in" || taken.kind === "out";
}

/** Whether it is known which beam was met. */
export function resolved(taken: Taken): boolean {
  return isBox(taken) || (taken.row !== null && (taken.kind !== "spot" || taken.spot !== null));
}

/** The pose of each row in the doorway's frame. */
export function frames(curtain: Curtain, pose: Pose): Matrix[] {
  const turned = times(times(aboutZ(at(pose, YAW)), aboutX(at(pose, TILT))), aboutY(at(pose, ROLL)));
  const unit = curtain.turned ? times(HALF_TURN, turned) : turned;
  return curtain.rows.map((angle) => times(unit, aboutX(angle)));
}

/** The beam that a resolved reading meets. */
export function metBy(curtain: Curtain, pose: Pose, taken: Taken, each: readonly Matrix[]): Met {
  if (isBox(taken)) return byBox(curtain, pose, taken, each);
  const row = taken.row ?? 0;
  const frame = each[row] as Matrix;
  if (taken.kind === "line") return { ...slope(frame, angleAt(frame, (taken.x - at(pose, ALONG)) / at(pose, HEIGHT))), z: 0 };
  const fan = curtain.fans[row] ?? [];
  const place = (((taken.spot ?? 0) % fan.length) + fan.length) % fan.length;
  const angle = fan[curtain.turned ? fan.length - 1 - place : place] ?? 0;
  return { ...slope(frame, shared(curtain, angle, at(pose, SHARE))), z: 0 };
}

/** Every figure that resolved readings would show (m), x before y. */
export function expected(curtain: Curtain, pose: Pose, taken: readonly Taken[]): number[] {
  const each = frames(curtain, pose);
  return taken.flatMap((one) => {
    const { gx, gy, z } = metBy(curtain, pose, one, each);
    const drop = at(pose, HEIGHT) - z;
    return figures(one, at(pose, ALONG) + drop * gx, at(pose, ACROSS) + drop * gy);
  });
}

/** Every figure that readings did show (m), in the same order. */
export function shown(taken: readonly Taken[]): number[] {
  return taken.flatMap((one) => figures(one, one.x, one.y));
}

/** Standard uncertainty of every figure (m). */
export function spreads(curtain: Curtain, pose: Pose, taken: readonly Taken[], angleError: number, evenness: number): number[] {
  const each = frames(curtain, pose);
  return taken.flatMap((one) => {
    const { gx, gy, z } = metBy(curtain, pose, one, each);
    const spot = (at(pose, HEIGHT) - z) * (1 + gx * gx + gy * gy) * angleError;
    const foot = z <= 0 ? gy * evenness : 0;
    const low = isBox(one) && curtain.low === null && z < one.box ? gy * one.box : 0;
    return figures(one, rectangular(one.ux, spot, gx * evenness), rectangular(one.uy, spot, foot, byPlace(curtain, pose, one, each), low));
  });
}

/** Slopes of a row's beams, from its fan's first spot. */
export function rowSlopes(curtain: Curtain, pose: Pose, row: number): [number, number][] {
  const frame = frames(curtain, pose)[row] as Matrix;
  return (curtain.fans[row] ?? []).map((angle) => {
    const { gx, gy } = slope(frame, shared(curtain, angle, at(pose, SHARE)));
    return [gx, gy];
  });
}

export function at(pose: Pose, which: number): number {
  return pose[which] as number;
}

/** Of a spot both figures count, of an end the first, of all else the second. */
function figures(taken: Taken, x: number, y: number): number[] {
  if (taken.kind === "spot") return [x, y];
  return taken.kind === "end" ? [x] : [y];
}

function rectangular(...parts: number[]): number {
  return Math.sqrt(parts.reduce((sum, part) => sum + part * part, 0) / 3);
}

const NUDGE = 1e-3; // m along the row, to see how steeply it runs

/** What the doubt of a place along the row makes of a line's distance (m). */
function byPlace(curtain: Curtain, pose: Pose, taken: Taken, each: readonly Matrix[]): number {
  if (taken.kind === "spot" || taken.kind === "end") return 0;
  const here = metBy(curtain, pose, taken, each);
  const there = metBy(curtain, pose, { ...taken, x: taken.x + NUDGE }, each);
  return (((at(pose, HEIGHT) - here.z) * (there.gy - here.gy)) / NUDGE) * taken.ux;
}

function shared(curtain: Curtain, angle: number, share: number): number {
  return curtain.byAngle ? angle * share : Math.atan(share * Math.tan(angle));
}

function slope(frame: Matrix, angle: number): { gx: number; gy: number } {
  const [s, c] = [Math.sin(angle), Math.cos(angle)];
  const [ux, uy, uz] = frame.map((line) => line[0] * s - line[2] * c) as [number, number, number];
  return { gx: -ux / uz, gy: -uy / uz };
}

/** The fan angle at which a row's plane has this slope along the opening. */
function angleAt(frame: Matrix, along: number): number {
  const [first, third] = [frame[0] as readonly number[], frame[2] as readonly number[]];
  const over = at(first, 2) + along * at(third, 2);
  return Math.atan(over / (at(first, 0) + along * at(third, 0)));
}

/** The beam that the leading edge of a box meets first. */
function byBox(curtain: Curtain, pose: Pose, taken: Taken, each: readonly Matrix[]): Met {
  const rows = taken.row === null ? curtain.rowsOn : [taken.row];
  const away = curtain.turned ? -1 : 1;
  const way = taken.kind === "in" ? away : -away;
  const low = Math.min(curtain.low ?? 0, taken.box);
  let best: { reach: number; met: Met } | null = null;
  for (const row of rows) {
    for (const z of [low, taken.box]) {
      const drop = at(pose, HEIGHT) - z;
      const frame = each[row] as Matrix;
      const met = { ...slope(frame, angleAt(frame, (taken.x - at(pose, ALONG)) / drop)), z };
      const reach = way * (at(pose, ACROSS) + drop * met.gy);
      if (best === null || reach > best.reach) best = { reach, met };
    }
  }
  if (best === null) throw new RangeError("a unit has a row");
  return best.met;
}

const HALF_TURN: Matrix = [[-1, 0, 0], [0, -1, 0], [0, 0, 1]];

function aboutX(angle: number): Matrix {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [[1, 0, 0], [0, c, -s], [0, s, c]];
}

function aboutY(angle: number): Matrix {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [[c, 0, s], [0, 1, 0], [-s, 0, c]];
}

function aboutZ(angle: number): Matrix {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [[c, -s, 0], [s, c, 0], [0, 0, 1]];
}

function times(a: Matrix, b: Matrix): Matrix {
  const [p, q, r] = b as [readonly [number, number, number], readonly [number, number, number], readonly [number, number, number]];
  return a.map(([x, y, z]) => [x * p[0] + y * q[0] + z * r[0], x * p[1] + y * q[1] + z * r[1], x * p[2] + y * q[2] + z * r[2]] as const);
}
