/** What is typed, kept in this browser until the server has it: a reload loses nothing. */

/** The fields of a form, and the units they were typed in. */
export interface Held {
  units: string;
  fields: Record<string, string>;
}

const METRIC = String.raw`\d+(?:[.,]\d+)?`;
const FEET = String.raw`(?:\d+(?:\.\d+)?(?:\s+\d+\/\d+)?|\d+\/\d+)`;
const OFF = String.raw`\s*(?:±|\+\/-)\s*`;
const UNITS: Record<string, string> = { metric: "mm", feet: "in" };

/** Keep it: for this tab, and for one that is opened after this one was closed. */
export function keep(name: string, what: unknown): void {
  const said = JSON.stringify(what);
  attempt(() => sessionStorage.setItem(name, said));
  attempt(() => localStorage.setItem(name, said));
}

export function forget(name: string): void {
  attempt(() => sessionStorage.removeItem(name));
  attempt(() => localStorage.removeItem(name));
}

/** What was kept, if it is what it should be; this tab's own comes first. */
export function kept<What>(name: string, is: (found: unknown) => found is What): What | null {
  return read(() => sessionStorage.getItem(name), is) ?? read(() => localStorage.getItem(name), is);
}

export function isHeld(found: unknown): found is Held {
  return (
    typeof found === "object" && found !== null && "fields" in found && "units" in found &&
    typeof found.fields === "object" && found.fields !== null && typeof found.units === "string"
  );
}

/** Bare numbers by units; `sign` is what may stand before them. */
export function bare(sign = ""): Record<string, RegExp> {
  return {
    metric: new RegExp(`^${sign}${METRIC}(?:${OFF}${METRIC})?$`),
    feet: new RegExp(`^${sign}${FEET}(?:${OFF}${FEET})?$`),
  };
}

/** A bare number typed under other units keeps the unit it was typed in. */
export function withUnit(value: string, units: string, numbers: Record<string, RegExp>): string {
  return numbers[units]?.test(value) ? `${value} ${UNITS[units] ?? ""}`.trim() : value;
}

function read<What>(get: () => string | null, is: (found: unknown) => found is What): What | null {
  try {
    const found: unknown = JSON.parse(get() ?? "null");
    return is(found) ? found : null;
  } catch {
    return null;
  }
}

/** A browser may refuse to keep anything; the form is still there. */
function attempt(act: () => void): void {
  try {
    act();
  } catch {
    // Nothing to be done about it, and nothing is lost by it yet.
  }
}
