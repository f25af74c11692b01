/** Discs of the picture: which one is nearest to a tap, which one comes next by a key. */

export interface Disc {
  letter: string;
  x: number;
  y: number;
}

export type Way = "ArrowLeft" | "ArrowRight" | "ArrowUp" | "ArrowDown" | "Home" | "End";

const WAYS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home", "End"];

export function isWay(key: string): key is Way {
  return WAYS.includes(key);
}

/** The nearest disc, if it is within reach of the tap; all in one unit. */
export function nearest(discs: readonly Disc[], x: number, y: number, reach: number): Disc | null {
  let best: Disc | null = null;
  let least = reach;
  for (const disc of discs) {
    const far = Math.hypot(disc.x - x, disc.y - y);
    if (far <= least) [best, least] = [disc, far];
  }
  return best;
}

/**
 * The disc to which a key leads: the next one to that side, the nearest to the level of
 * this one where several lie equally far; none beyond the last.
 */
export function next(discs: readonly Disc[], from: Disc, way: Way): Disc | null {
  if (way === "Home" || way === "End") {
    const sorted = [...discs].sort((a, b) => a.x - b.x);
    return (way === "Home" ? sorted[0] : sorted[sorted.length - 1]) ?? null;
  }
  const along = way === "ArrowLeft" || way === "ArrowRight" ? "x" : "y";
  const across = along === "x" ? "y" : "x";
  const sign = way === "ArrowRight" || way === "ArrowDown" ? 1 : -1;
  const ahead = discs.filter((one) => sign * (one[along] - from[along]) > 0.5);
  const cost = (one: Disc) => Math.abs(one[along] - from[along]) + 0.001 * Math.abs(one[across] - from[across]);
  ahead.sort((a, b) => cost(a) - cost(b));
  return ahead[0] ?? null;
}
