/** A walk as the server says it. Between its numbers everything goes straight. */
import type { Flat, Leaf } from "../space/scene.ts";

export interface Course {
  ends: number;
  arrives: number;
  entered: number | null;
  told: number | null;
  enough: number | null;
  start: Flat;
  stop: Flat;
  body: Flat;
  late: readonly (readonly Flat[])[];
  fields: readonly (readonly Flat[])[];
  times: readonly number[];
  left: readonly number[];
  right: readonly number[];
  words: readonly string[];
  half: number;
  leaves: readonly Leaf[];
}

const SAME = 1e-3; // s

/** What is seen at one instant. */
export interface Now {
  place: Flat;
  /** Whether somebody is in the field, and whether the operator has been told. */
  within: boolean;
  told: boolean;
  /** Whether somebody has come to a door that was not open enough. */
  late: boolean;
  /** How far each leaf has gone from where it is drawn, wide open (m along x). */
  shifts: readonly number[];
  open: string;
}

export function now(course: Course, time: number): Now {
  const share = Math.min(1, Math.max(0, time / course.arrives));
  const [ax, ay] = course.start;
  const [bx, by] = course.stop;
  const { index, part } = between(course.times, time);
  const left = mixed(course.left, index, part);
  const right = mixed(course.right, index, part);
  return {
    place: [ax + share * (bx - ax), ay + share * (by - ay)],
    within: course.entered !== null && time >= course.entered,
    told: course.told !== null && time >= course.told,
    late: time >= course.arrives - SAME,
    shifts: course.leaves.map((leaf) => leaf.share * (leaf.hand > 0 ? right - course.half : left + course.half)),
    open: course.words[part < 0.5 ? index : Math.min(index + 1, course.words.length - 1)] ?? "",
  };
}

/** Which two numbers a time lies between, and how far on from the first. */
function between(times: readonly number[], time: number): { index: number; part: number } {
  let [low, high] = [0, times.length - 1];
  if (high < 1 || time <= times[0]!) return { index: 0, part: 0 };
  if (time >= times[high]!) return { index: high, part: 0 };
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle]! <= time) low = middle;
    else high = middle;
  }
  return { index: low, part: (time - times[low]!) / (times[high]! - times[low]!) };
}

function mixed(values: readonly number[], index: number, part: number): number {
  const one = values[index] ?? 0;
  return part === 0 ? one : one + part * ((values[index + 1] ?? one) - one);
}

/** Where the failure bears its cross: in what is not free, or where nobody was noticed. */
export function crosses(course: Course): Flat[] {
  const missed = course.late.map((points): Flat => {
    const [a, b] = [points[0]!, points[points.length - 1]!];
    return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  });
  return missed.length ? missed : [course.stop];
}
