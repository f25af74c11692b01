/** The fields of the readings: gathered, filled, one reading more, one less. */
import { fitted, nextName, says, type Held } from "./held.ts";

type Entry = HTMLInputElement | HTMLSelectElement;

export function gathered(form: HTMLFormElement): Held {
  const fields: Record<string, string> = {};
  for (const [key, value] of new FormData(form)) {
    if (typeof value === "string" && value.trim()) fields[key] = value;
  }
  return { units: fields["units"] ?? "metric", fields };
}

export function fieldOf(form: HTMLFormElement, name: string): Entry | null {
  const found = form.querySelector(`[name="${CSS.escape(name)}"]`);
  return found instanceof HTMLInputElement || found instanceof HTMLSelectElement ? found : null;
}

/** Put what was kept back, with the readings that were added. */
export function refill(form: HTMLFormElement, held: Held): void {
  const fittings: Record<string, string> = {};
  for (const unit of form.querySelectorAll<HTMLElement>("[data-unit-at]")) {
    const at = unit.dataset["unitAt"] ?? "";
    fittings[fieldOf(form, `${at}.fitting`)?.value ?? ""] = at;
  }
  const fields = fitted(held, fieldOf(form, "units")?.value ?? held.units, fittings);
  for (const [key, kind] of Object.entries(fields)) {
    const [, at, name] = /^(u\d+)\.r(\d+)\.kind$/.exec(key) ?? [];
    if (at && name && !fieldOf(form, key)) add(form, at, kind, Number(name));
  }
  for (const [key, value] of Object.entries(fields)) {
    if (/\.(?:kind|fitting)$/.test(key)) continue;
    put(form, key, value);
  }
}

export function put(form: HTMLFormElement, name: string, value: string): void {
  const field = fieldOf(form, name);
  if (field instanceof HTMLInputElement && field.type === "checkbox") field.checked = value !== "";
  else if (field instanceof HTMLInputElement) field.value = value;
  else if (field && [...field.options].some((one) => one.value === value)) field.value = value;
}

/** One reading more; the fields it is typed in. */
export function add(form: HTMLFormElement, at: string, kind: string, name?: number): HTMLElement | null {
  const unit = form.querySelector<HTMLElement>(`[data-unit-at="${CSS.escape(at)}"]`);
  const made = unit?.querySelector<HTMLTemplateElement>(`template[data-new="${CSS.escape(kind)}"]`);
  const list = unit?.querySelector("[data-entries]");
  if (!unit || !made || !list) return null;
  const number = name ?? nextName(namesOf(unit));
  const holder = document.createElement("template");
  holder.innerHTML = made.innerHTML.replaceAll("NEW", String(number));
  const added = holder.content.firstElementChild;
  if (!(added instanceof HTMLElement)) return null;
  list.append(added);
  return added;
}

function namesOf(unit: HTMLElement): number[] {
  return [...unit.querySelectorAll<HTMLElement>("[data-reading]")].map((one) => Number(one.dataset["mark"]));
}

/** Mark what is left out, name where it is taped from, show the unit that counts. */
export function show(form: HTMLFormElement): void {
  for (const asked of form.querySelectorAll<HTMLElement>("[data-reading]")) {
    const strikes = asked.querySelector<HTMLInputElement>("[data-strikes]");
    asked.toggleAttribute("data-struck", strikes?.checked ?? false);
    const way = asked.querySelector<HTMLSelectElement>("[data-way]");
    const label = asked.querySelector("[data-way-label]");
    const words = way?.selectedOptions[0]?.dataset["label"];
    if (label && words) label.textContent = words;
  }
  for (const unit of form.querySelectorAll<HTMLElement>("[data-unit]")) {
    const field = unit.parentElement?.querySelector("input");
    unit.toggleAttribute("hidden", /[a-z'"′″]/i.test(field?.value ?? ""));
  }
}

/** The drawing shows what is typed now, and the rest fainter. */
export function point(target: Element): void {
  const mark = target.closest<HTMLElement>("[data-mark]")?.dataset["mark"] ?? "";
  const drawn = target.closest("[data-unit-at]")?.querySelector<HTMLElement>("[data-drawn]");
  if (!drawn || target.closest("[data-drawn]")) return;
  const parts = [...drawn.querySelectorAll<SVGGElement>(".taping-mark")];
  const known = parts.some((one) => one.dataset["mark"] === mark);
  for (const one of parts) one.classList.toggle("now", one.dataset["mark"] === mark);
  if (known) drawn.dataset["now"] = mark;
  else delete drawn.dataset["now"];
  drawn.toggleAttribute("data-lens", mark === "A" || mark === "B");
}

export { says };
