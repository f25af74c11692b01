/** From where the doorway is looked at: round it, up and down, near and far. */
import type { Place } from "./scene.ts";

export interface Eye {
  /** rad about the vertical: 0 straight from outside, positive from the right. */
  round: number;
  /** rad above the floor. */
  up: number;
  /** m from what is looked at. */
  far: number;
  at: Place;
}

export type Stand = "first" | "first inside" | "outside" | "inside" | "side" | "above";

export const LENS = (28 * Math.PI) / 180; // how much is seen from top to bottom
const LOWEST = 0.04;
const STEEPEST = Math.PI / 2 - 0.01;
const NEAREST = 0.6;
const FURTHEST = 40;
const CENTRING = 6; // times
const ROOM = 1.04; // of the picture, left free around what is looked at

const degrees = (angle: number): number => (angle * Math.PI) / 180;
const STANDS: Record<Stand, readonly [round: number, up: number]> = {
  first: [degrees(28), degrees(30)],
  "first inside": [degrees(28 - 180), degrees(30)],
  outside: [0, degrees(14)],
  inside: [Math.PI, degrees(14)],
  side: [degrees(90), degrees(7)],
  above: [0, STEEPEST],
};

/** A standpoint from which all points are in the picture, in its middle. */
export function standing(stand: Stand, points: readonly Place[], aspect: number): Eye {
  const [round, up] = STANDS[stand];
  const axes = axesOf(round, up);
  const seen = points.map((point) => axes.map((axis) => dot(axis, point)));
  const at = axes.map((_, n) => middle(seen.map((one) => one[n]!)));
  let far = farEnough(seen, at, aspect);
  // What is near looks larger, so the middle of the picture is not that of the thing.
  for (let turn = 0; turn < CENTRING; turn += 1) {
    for (const n of [0, 1]) {
      at[n]! += far * middle(seen.map((one) => (one[n]! - at[n]!) / (far - (one[2]! - at[2]!))));
    }
    far = farEnough(seen, at, aspect);
  }
  const place = [0, 1, 2].map((n) => axes.reduce((sum, axis, m) => sum + axis[n]! * at[m]!, 0));
  return { round, up, far: Math.min(far, FURTHEST), at: place as unknown as Place };
}

/** How far off all is in the picture; places are aside, above and towards the eye. */
function farEnough(seen: readonly number[][], at: readonly number[], aspect: number): number {
  const tall = Math.tan(LENS / 2) / ROOM;
  const needed = seen.map((one) => {
    const [aside, above, near] = one.map((value, n) => value - at[n]!) as [number, number, number];
    return near + Math.max(Math.abs(aside) / (tall * aspect), Math.abs(above) / tall);
  });
  return Math.max(NEAREST, ...needed);
}

function middle(values: readonly number[]): number {
  return (Math.min(...values) + Math.max(...values)) / 2;
}

/** To the right, upwards and towards the eye, in the doorway's frame. */
export function axesOf(round: number, up: number): readonly [Place, Place, Place] {
  const [s, c, h, v] = [Math.sin(round), Math.cos(round), Math.cos(up), Math.sin(up)];
  return [
    [c, -s, 0],
    [-s * v, -c * v, h],
    [s * h, c * h, v],
  ];
}

/** Where the eye is, in the doorway's frame. */
export function eyeAt({ round, up, far, at }: Eye): Place {
  const towards = axesOf(round, up)[2];
  return [at[0] + far * towards[0], at[1] + far * towards[1], at[2] + far * towards[2]];
}

export function turned(eye: Eye, round: number, up: number): Eye {
  return {
    ...eye,
    round: wrapped(eye.round + round),
    up: Math.min(STEEPEST, Math.max(LOWEST, eye.up + up)),
  };
}

export function nearer(eye: Eye, factor: number): Eye {
  return { ...eye, far: Math.min(FURTHEST, Math.max(NEAREST, eye.far / factor)) };
}

/** What a key does to the eye; null for keys that do nothing. */
export function keyed(eye: Eye, key: string, fine: boolean): Eye | null {
  const step = degrees(fine ? 1 : 6);
  switch (key) {
    case "ArrowLeft":
      return turned(eye, -step, 0);
    case "ArrowRight":
      return turned(eye, step, 0);
    case "ArrowUp":
      return turned(eye, 0, step);
    case "ArrowDown":
      return turned(eye, 0, -step);
    case "+":
    case "=":
      return nearer(eye, fine ? 1.03 : 1.15);
    case "-":
      return nearer(eye, fine ? 1 / 1.03 : 1 / 1.15);
    default:
      return null;
  }
}

function wrapped(angle: number): number {
  const full = 2 * Math.PI;
  return angle - full * Math.floor((angle + Math.PI) / full);
}

function dot(a: Place, b: Place): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
