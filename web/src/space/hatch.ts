/** Hatching: the parts of slanting lines that lie within an area. */
import type { Flat } from "./scene.ts";

/** Pairs of ends, `step` metres apart, at half a right angle. */
export function hatched(corners: readonly Flat[], step: number): [Flat, Flat][] {
  // Along the line is (x + y), across it (x - y), both divided by the root of two.
  const turned = corners.map(([x, y]): Flat => [(x + y) / Math.SQRT2, (x - y) / Math.SQRT2]);
  const across = turned.map(([, c]) => c);
  const found: [Flat, Flat][] = [];
  const first = Math.ceil(Math.min(...across) / step);
  for (let n = first; n * step < Math.max(...across); n += 1) {
    const ends = crossings(turned, n * step);
    for (let i = 0; i + 1 < ends.length; i += 2) {
      found.push([back(ends[i]!, n * step), back(ends[i + 1]!, n * step)]);
    }
  }
  return found;
}

function crossings(corners: readonly Flat[], level: number): number[] {
  const met: number[] = [];
  corners.forEach(([a, c], i) => {
    const [a2, c2] = corners[(i + 1) % corners.length]!;
    if (c > level !== c2 > level) met.push(a + ((level - c) / (c2 - c)) * (a2 - a));
  });
  return met.sort((one, two) => one - two);
}

function back(along: number, across: number): Flat {
  return [(along + across) / Math.SQRT2, (along - across) / Math.SQRT2];
}
