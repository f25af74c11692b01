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

export type Box = readonly [low: Place, high: Place];
export type Stand = "first" | "outside" | "inside" | "side" | "above";

export const LENS = (28 * Math.PI) / 180; // how much is seen from top to bottom
const LOWEST = 0.04;
const STEEPEST = Math.PI / 2 - 0.01;
const NEAREST = 0.6;
const FURTHEST = 40;
const ROOM = 1.04; // of the picture, left free around what is looked at

const degrees = (angle: number): number => (angle * Math.PI) / 180;
const STANDS: Record<Stand, readonly [round: number, up: number]> = {
  first: [degrees(28), degrees(30)],
  outside: [0, degrees(14)],
  inside: [Math.PI, degrees(14)],
  side: [degrees(90), degrees(7)],
  above: [0, STEEPEST],
};

/** A standpoint from which all of a box is in the picture. */
export function standing(stand: Stand, box: Box, aspect: number): Eye {
  const [round, up] = STANDS[stand];
  const [low, high] = box;
  const at: Place = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2];
  return { round, up, far: distance(round, up, at, box, aspect), at };
}

/** How far away one has to be for all of a box to be in the picture. */
function distance(round: number, up: number, at: Place, box: Box, aspect: number): number {
  const axes = axesOf(round, up);
  const tall = Math.tan(LENS / 2);
  let far = NEAREST;
  for (const corner of cornersOf(box)) {
    const from: Place = [corner[0] - at[0], corner[1] - at[1], corner[2] - at[2]];
    const [aside, above, near] = axes.map((axis) => dot(axis, from)) as [number, number, number];
    far = Math.max(far, near + (ROOM * Math.abs(aside)) / (tall * aspect), near + (ROOM * Math.abs(above)) / tall);
  }
  return Math.min(far, FURTHEST);
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

function cornersOf([low, high]: Box): Place[] {
  return [0, 1, 2, 3, 4, 5, 6, 7].map((n): Place => [
    n & 1 ? high[0] : low[0],
    n & 2 ? high[1] : low[1],
    n & 4 ? high[2] : low[2],
  ]);
}

function dot(a: Place, b: Place): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
