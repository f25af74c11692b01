/** Buttons and fields that a glove finds. */
import type { Card } from "./app.ts";
import { el, type Child } from "./dom.ts";

/** A button that heeds no tap that was meant for the screen before. */
export function act(card: Card, kind: string, words: Child, does: () => unknown, more: Record<string, string> = {}): HTMLElement {
  const pressed = () => {
    if (card.rested) does();
  };
  return el("button", { type: "button", class: kind, onclick: pressed, ...more }, words);
}

export const MAIN = "card-do";
export const SECOND = "card-act";
export const APART = "card-bad";

/** One line of text to be typed. */
export function field(name: string, label: string, given: { value?: string; help?: string; long?: boolean } = {}): HTMLElement {
  const id = `f-${name}`;
  const help = given.help ? { "aria-describedby": `${id}-help` } : {};
  const entry = given.long
    ? el("textarea", { id, name, rows: "4", class: "card-entry", ...help }, given.value ?? "")
    : el("input", { id, name, class: "card-entry", value: given.value ?? "", autocomplete: "off", ...help });
  return el(
    "div",
    { class: "card-field" },
    el("label", { for: id }, label),
    given.help ? el("span", { id: `${id}-help`, class: "card-help" }, given.help) : null,
    entry,
    el("span", { class: "card-fault", id: `${id}-fault`, role: "alert" }),
  );
}

/** A number with its unit, on a big pad. */
export function numberField(name: string, label: string, unit: string): HTMLElement {
  const id = `f-${name}`;
  return el(
    "div",
    { class: "card-field" },
    el("label", { for: id }, label),
    el(
      "span",
      { class: "card-number" },
      el("input", { id, name, inputmode: "decimal", autocomplete: "off", class: "card-entry" }),
      el("span", { class: "card-unit" }, unit),
    ),
    el("span", { class: "card-fault", id: `${id}-fault`, role: "alert" }),
  );
}

export interface Option {
  value: string;
  words: string;
  says?: string;
}

/** Letters of a choice that has room beside another. */
const MOST_BESIDE = 15;

/** A choice among few, each as large as a finger in a glove. */
export function choice(name: string, legend: string, options: readonly Option[], chosen: string, changed?: (value: string) => void): HTMLElement {
  const long = options.some((one) => one.says || one.words.length > MOST_BESIDE);
  const beside = long ? 1 : options.length > 3 ? options.length : 2;
  return el(
    "fieldset",
    { class: "card-choice", data: { beside: String(beside) } },
    el("legend", {}, legend),
    options.map((one) =>
      el(
        "label",
        {},
        el("input", {
          type: "radio",
          name,
          value: one.value,
          checked: one.value === chosen,
          onchange: () => changed?.(one.value),
        }),
        el("span", {}, one.words, one.says ? el("small", {}, one.says) : null),
      ),
    ),
    el("span", { class: "card-fault", id: `f-${name}-fault`, role: "alert" }),
  );
}

/** What stands in a field now. */
export function typed(root: ParentNode, name: string): string {
  const radio = root.querySelector<HTMLInputElement>(`input[type="radio"][name="${name}"]:checked`);
  if (radio) return radio.value;
  const one = root.querySelector<HTMLInputElement | HTMLTextAreaElement>(`[name="${name}"]:not([type="radio"])`);
  return one?.value.trim() ?? "";
}

/** Say beneath a field what is wrong with it, and lead there. */
export function fault(root: ParentNode, name: string, words: string): false {
  const told = root.querySelector<HTMLElement>(`#f-${name}-fault`);
  const entry = root.querySelector<HTMLElement>(`[name="${name}"]`);
  if (told) told.textContent = words;
  entry?.setAttribute("aria-invalid", "true");
  if (entry) entry.setAttribute("aria-describedby", `f-${name}-fault`);
  entry?.focus();
  return false;
}

export function noFaults(root: ParentNode): void {
  root.querySelectorAll(".card-fault").forEach((one) => (one.textContent = ""));
  root.querySelectorAll("[aria-invalid]").forEach((one) => one.removeAttribute("aria-invalid"));
}
