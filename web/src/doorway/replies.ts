/** What the server answers, as its routes write it. */

import type { Scene } from "../space/scene.ts";

export interface Grip {
  fitting: string;
  /** Of its middle, in percent of the drawing. */
  x: number;
  y: number;
  /** Where the lens is, from the middle of the opening (mm). */
  along: number;
  reach: number;
  name: string;
  says: string;
}

export interface Drawn {
  view: string;
  svg: string;
  says: string;
  /** Percent of the drawing's width that are a metre; 0 where nothing is moved. */
  per_metre: number;
  grips: Grip[];
  /** What is drawn in space; null on a sheet. */
  space: Scene | null;
  /** The finding whose walk can be played, if any; left out while a setting is turned. */
  walk?: string;
}

export interface Line {
  verdict: string;
  word: string;
  because: string;
}

export interface Moving extends Drawn {
  lines: Record<string, Line>;
  reads: Record<string, string>;
}

export interface Span {
  least: number;
  most: number;
  near: string;
  far: string;
  words: string;
}

export interface Knob {
  key: string;
  value: number;
  read: string;
  window: Span | null;
  remark: string;
}

export interface Kept {
  version: number;
  can_undo: boolean;
  can_redo: boolean;
}

export interface Rested extends Drawn, Kept {
  drawn: string;
  next_html: string;
  findings_html: string;
  settings_html: string;
  knobs: Record<string, Knob>;
  choices: Record<string, string>;
  reads: Record<string, string>;
}

export interface Clash {
  mine: string;
  theirs: string;
  version: number;
  html?: string;
}

export interface Ranges {
  version: number;
  windows: Record<string, Span | null>;
  /** By setting, what is hatched or why nothing is. */
  remarks: Record<string, string>;
}

/** Why something was refused, line by line. */
export function linesOf(body: unknown): string[] {
  if (typeof body !== "object" || body === null || !("lines" in body)) return [];
  const { lines } = body;
  return Array.isArray(lines) ? lines.map(String) : [];
}
