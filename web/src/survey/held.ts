/** Answers kept in this browser until the doorway is: a reload loses nothing. */

interface Held {
  units: string;
  fields: Record<string, string>;
}

/** Fields that say nothing of the door by themselves. */
const ASIDE = new Set(["units", "rulebook"]);
const LENGTH = /^(?:clear_width|lens_height|plumb_|behind_)/;
const METRIC = String.raw`\d+(?:[.,]\d+)?`;
const FEET = String.raw`(?:\d+(?:\.\d+)?(?:\s+\d+\/\d+)?|\d+\/\d+)`;
const OFF = String.raw`\s*(?:±|\+\/-)\s*`;
const BARE: Record<string, RegExp> = {
  metric: new RegExp(`^${METRIC}(?:${OFF}${METRIC})?$`),
  feet: new RegExp(`^${FEET}(?:${OFF}${FEET})?$`),
};
const UNITS: Record<string, string> = { metric: "mm", feet: "in" };

export function hold(name: string, form: HTMLFormElement): void {
  const fields: Record<string, string> = {};
  for (const [key, value] of new FormData(form)) {
    if (typeof value === "string" && value) fields[key] = value;
  }
  const said = JSON.stringify({ units: fields["units"] ?? "metric", fields } satisfies Held);
  attempt(() => sessionStorage.setItem(name, said));
  attempt(() => localStorage.setItem(name, said));
}

export function forget(name: string): void {
  attempt(() => sessionStorage.removeItem(name));
  attempt(() => localStorage.removeItem(name));
}

/** Put the answers back; whether there were any. This tab's own come first. */
export function recall(name: string, form: HTMLFormElement): boolean {
  const held = read(sessionStorage, name) ?? read(localStorage, name);
  if (!held || !Object.keys(held.fields).some((key) => !ASIDE.has(key))) return false;
  const units = form.elements.namedItem("units");
  const now = units instanceof HTMLInputElement ? units.value : held.units;
  for (const [key, value] of Object.entries(held.fields)) {
    if (key !== "units") put(form, key, now === held.units ? value : withUnit(key, value, held.units));
  }
  return true;
}

/** A bare number typed under other units keeps the unit it was typed in. */
function withUnit(key: string, value: string, units: string): string {
  const bare = LENGTH.test(key) && BARE[units]?.test(value);
  return bare ? `${value} ${UNITS[units] ?? ""}`.trim() : value;
}

function put(form: HTMLFormElement, key: string, value: string): void {
  for (const field of form.querySelectorAll<HTMLInputElement | HTMLSelectElement>(`[name="${CSS.escape(key)}"]`)) {
    if (field instanceof HTMLInputElement && (field.type === "radio" || field.type === "checkbox")) {
      field.checked = field.value === value;
    } else if (field instanceof HTMLInputElement || [...field.options].some((one) => one.value === value)) {
      field.value = value;
    } else if (key === "edition") {
      // Its choices come with the first verdict.
      field.dataset["wanted"] = value;
    }
  }
}

function read(store: Storage, name: string): Held | null {
  try {
    const found: unknown = JSON.parse(store.getItem(name) ?? "null");
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
