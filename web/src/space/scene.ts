/** The doorway in space, as the server says it: metres, the doorway's own frame. */

export type Flat = readonly [number, number];
export type Place = readonly [number, number, number];

export interface Style {
  /** Names of inks, as the style sheet has them. */
  stroke: string | null;
  fill: string | null;
  wide: number;
  dash: readonly number[];
  veil: number;
  pattern: string | null;
}

export interface OnFloor {
  part: string;
  kind: "area" | "line" | "dots" | "sign";
  at: readonly Flat[];
  radius?: number;
}

export interface Solid {
  part: string;
  corners: readonly Flat[];
  low: number;
  high: number;
}

export interface Leaf {
  /** Left, right, and from inside to outside. */
  box: readonly [number, number, number, number];
  high: number;
  hand: 1 | -1;
  share: number;
}

export interface Named {
  text: string;
  at: Place;
  importance: number;
  quiet: boolean;
}

export interface Scene {
  title: string;
  says: string;
  note: string;
  /** Left, right, inside, outside. */
  frame: readonly [number, number, number, number];
  half: number;
  high: number;
  floor: readonly OnFloor[];
  solids: readonly Solid[];
  wires: readonly { part: string; points: readonly Place[] }[];
  posts: readonly { part: string; at: Place }[];
  leaves: readonly Leaf[];
  named: readonly Named[];
  styles: Readonly<Record<string, Style>>;
}

/**
 * The doorway's frame is left-handed (x to the right for who stands outside, y towards
 * them, z up); the tool that draws is right-handed. Swapping y and z turns the one into
 * the other. Anything else would swap left and right.
 */
export function upright([x, y, z]: Place): [number, number, number] {
  return [x, z, y];
}
