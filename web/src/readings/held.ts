/** Readings kept in this browser at each keystroke: a reload loses nothing. */

export interface Held {
  units: string;
  fields: Record<string, string>;
}

/** Fields that say nothing that was found at the door. */
const ASIDE = /(?:^units$|^version$|^act$|\.fitting$|\.kind$|\.from$|\.row$|\.end$|\.fan$|\.add$)/;
const LENGTH = /\.(?:out|place|height|from_leaf|along)$/;
const METRIC = String.raw`\d+(?:[.,]\d+)?`;
const FEET = String.raw`(?:\d+(?:\.\d+)?(?:\s+\d+\/\d+)?|\d+\/\d+)`;
const OFF = String.raw`\s*(?:±|\+\/-)\s*`;
const BARE: Record<string, RegExp> = {
  metric: new RegExp(`^[-−–]?${METRIC}(?:${OFF}${METRIC})?$`),
  feet: new RegExp(`^[-−–]?${FEET}(?:${OFF}${FEET})?$`),
};
const UNITS: Record<string, string> = { metric: "mm", feet: "in" };

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
    if (now) found[now + key.slice(unit.length)] = units === held.units ? value : withUnit(key, value, held.units);
  }
  return found;
}

/** A bare number typed under other units keeps the unit it was typed in. */
function withUnit(key: string, value: string, units: string): string {
  return LENGTH.test(key) && BARE[units]?.test(value) ? `${value} ${UNITS[units] ?? ""}`.trim() : value;
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

export function hold(name: string, held: Held): void {
  attempt(() => localStorage.setItem(name, JSON.stringify(held)));
  attempt(() => sessionStorage.setItem(name, JSON.stringify(held)));
}

export function forget(name: string): void {
  attempt(() => localStorage.removeItem(name));
  attempt(() => sessionStorage.removeItem(name));
}

/** What was kept; this tab's own comes first. */
export function recall(name: string): Held | null {
  const held = read(() => sessionStorage.getItem(name)) ?? read(() => localStorage.getItem(name));
  return held && says(held) ? held : null;
}

function read(get: () => string | null): Held | null {
  try {
    const found: unknown = JSON.parse(get() ?? "null");
    return isHeld(found) ? found : null;
  } catch {
    return null;
  }
}

function isHeld(found: unknown): found is Held {
  return (
    typeof found === "object" && found !== null && "fields" in found && "units" in found &&
    typeof found.fields === "object" && found.fields !== null && typeof found.units === "string"
  );
}

/** A browser may refuse to keep anything; the form is still there. */
function attempt(keep: () => void): void {
  try {
    keep();
  } catch {
    // Nothing to be done about it, and nothing is lost by it yet.
  }
}
