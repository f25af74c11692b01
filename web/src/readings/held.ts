/** Readings kept in this browser at each keystroke: a reload loses nothing. */
import { bare, type Held, isHeld, kept, withUnit } from "../held.ts";

export { forget, type Held, keep as hold } from "../held.ts";

/** Fields that say nothing that was found at the door. */
const ASIDE = /(?:^units$|^version$|^act$|\.fitting$|\.kind$|\.from$|\.row$|\.end$|\.fan$|\.add$)/;
const LENGTH = /\.(?:out|place|height|from_leaf|along)$/;
const BARE = bare("[-−–]?");

/** Whether anything was found at all. */
export function says(held: Held): boolean {
  return Object.entries(held.fields).some(([key, value]) => value.trim() !== "" && !ASIDE.test(key));
}

/** The fields as this page takes them: its units, and its number of each fitting. */
export function fitted(held: Held, units: string, fittings: Record<string, string>): Record<string, string> {
  const found: Record<string, string> = {};
  for (const [key, value] of Object.entries(held.fields)) {
    const unit = /^u\d+/.exec(key)?.[0];
    if (!unit) continue;
    const now = fittings[held.fields[`${unit}.fitting`] ?? ""];
    if (now) found[now + key.slice(unit.length)] = units === held.units ? value : inUnit(key, value, held.units);
  }
  return found;
}

function inUnit(key: string, value: string, units: string): string {
  return LENGTH.test(key) ? withUnit(value, units, BARE) : value;
}

/** The number with its sign turned: beyond the post, left of the middle. */
export function turned(text: string): string {
  const bare = text.trim();
  return /^[-−–]/.test(bare) ? bare.slice(1).trim() : `−${bare}`;
}

/** The name of one reading more of a unit that has these. */
export function nextName(names: readonly number[]): number {
  return Math.max(5, ...names) + 1;
}

/** What was kept; this tab's own comes first. */
export function recall(name: string): Held | null {
  const held = kept(name, isHeld);
  return held && says(held) ? held : null;
}
