/** Places on a plan: percent of the picture from the left and from the top. */
export interface Place {
  x: number;
  y: number;
}

const STEP = 1;
const SMALL = 0.1;
const WAYS: Record<string, [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** A place on the picture, in tenths of a percent. */
export function heldWithin(place: Place): Place {
  const held = (one: number) => Math.round(10 * Math.min(100, Math.max(0, one))) / 10;
  return { x: held(place.x), y: held(place.y) };
}

/** Where a key moves a place; null for keys that move nothing. */
export function moved(place: Place, key: string, small: boolean): Place | null {
  const way = WAYS[key];
  if (!way) return null;
  const step = small ? SMALL : STEP;
  return heldWithin({ x: place.x + step * way[0], y: place.y + step * way[1] });
}
