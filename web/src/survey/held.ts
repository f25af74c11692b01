/** Answers kept in this browser until the doorway is: a reload loses nothing. */
import { bare, type Held, isHeld, keep, kept, withUnit } from "../held.ts";

export { forget } from "../held.ts";

/** Fields that say nothing of the door by themselves. */
const ASIDE = new Set(["units", "rulebook"]);
const LENGTH = /^(?:clear_width|lens_height|plumb_|behind_)/;
const BARE = bare();

export function hold(name: string, form: HTMLFormElement): void {
  const fields: Record<string, string> = {};
  for (const [key, value] of new FormData(form)) {
    if (typeof value === "string" && value) fields[key] = value;
  }
  keep(name, { units: fields["units"] ?? "metric", fields } satisfies Held);
}

/** Put the answers back; whether there were any. This tab's own come first. */
export function recall(name: string, form: HTMLFormElement): boolean {
  const held = kept(name, isHeld);
  if (!held || !Object.keys(held.fields).some((key) => !ASIDE.has(key))) return false;
  const units = form.elements.namedItem("units");
  const now = units instanceof HTMLInputElement ? units.value : held.units;
  for (const [key, value] of Object.entries(held.fields)) {
    if (key !== "units") put(form, key, now === held.units ? value : inUnit(key, value, held.units));
  }
  return true;
}

function inUnit(key: string, value: string, units: string): string {
  return LENGTH.test(key) ? withUnit(value, units, BARE) : value;
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
