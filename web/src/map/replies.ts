/** What the server answers about the margin map, as `limen.web.doorway_map` writes it. */

export interface Mapped {
  version: number;
  svg: string;
  /** Where the first piece's corner lies, and from one piece to the next (px of the sheet). */
  origin: [number, number];
  step: [number, number];
  columns: number;
  rows: number;
  worst: [number, number] | null;
  heading: string;
  least: string;
  stretches: string[];
  key: [string, string][];
  /** What is said while a finer map is worked out. */
  finer: string;
}

export interface PlaceSaid {
  version: number;
  says: string;
}
