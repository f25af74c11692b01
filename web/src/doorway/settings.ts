/** The settings of the chosen unit: values, read-outs and ranges kept up to date. */
import { setFault, setSpan, setValue } from "../knob.ts";
import type { Knob, Span } from "./replies.ts";

const MM_AN_INCH = 25.4;

export class Settings {
  readonly root: HTMLElement;
  /** Settings whose typed value was refused: it stays, with the reason. */
  readonly #refused = new Set<string>();

  constructor(root: HTMLElement) {
    this.root = root;
  }

  get unit(): string {
    return this.root.querySelector<HTMLElement>("[data-fitting]")?.dataset["fitting"] ?? "";
  }

  replace(html: string): void {
    this.root.innerHTML = html;
    this.#refused.clear();
  }

  /** Values as they were saved; those under the hand stay. */
  values(knobs: Record<string, Knob>, choices: Record<string, string>): void {
    for (const one of Object.values(knobs)) {
      const knob = this.#knob(one.key);
      if (!knob || this.#refused.has(one.key)) continue;
      if (!knob.contains(document.activeElement)) setValue(knob, one.value);
      setFault(knob, null);
      say(knob, one.read);
    }
    for (const [key, value] of Object.entries(choices)) this.#choose(key, value);
  }

  /** Where first rows land, by unit. */
  reads(reads: Record<string, string>): void {
    const read = reads[this.unit];
    if (read === undefined) return;
    for (const setting of ["settings.tilt", "read.first_row"]) {
      const knob = this.#knob(`fitting[${this.unit}].${setting}`);
      if (knob) say(knob, read);
    }
  }

  /** A unit was dragged in the drawing: its knob follows. */
  along(fitting: string, millimetres: number): void {
    const knob = this.#knob(`fitting[${fitting}].lens.along`);
    if (!knob) return;
    const inches = knob.dataset["unit"] === "in";
    setValue(knob, inches ? millimetres / MM_AN_INCH : millimetres);
  }

  /** Every setting that is shown, knobs first. */
  keys(): string[] {
    return [...this.root.querySelectorAll<HTMLElement>("[data-remark]")].map((one) => one.dataset["remark"]!);
  }

  /** Ranges as they were found, and what there is to say of them. */
  windows(windows: Record<string, Span | null>, remarks: Record<string, string>): void {
    for (const [key, window] of Object.entries(windows)) {
      const knob = this.#knob(key);
      if (knob) setSpan(knob, window && { ...window, words: [window.near, window.far] });
    }
    for (const [key, words] of Object.entries(remarks)) this.#remark(key, words);
  }

  /** Ranges that other settings bear upon are not of this moment. */
  forget(but: readonly string[]): void {
    for (const knob of this.root.querySelectorAll<HTMLElement>(".knob")) {
      if (!but.includes(nameOf(knob))) setSpan(knob, null);
    }
    for (const key of this.keys()) if (!but.includes(key)) this.#remark(key, "");
  }

  fault(key: string, lines: readonly string[]): boolean {
    const knob = this.#knob(key);
    if (knob) setFault(knob, lines.join(" "));
    if (knob) this.#refused.add(key);
    return knob !== null;
  }

  /** A setting is turned anew: what was refused of it is past. */
  turned(key: string): void {
    if (!this.#refused.delete(key)) return;
    const knob = this.#knob(key);
    if (knob) setFault(knob, null);
  }

  #knob(key: string): HTMLElement | null {
    const slider = this.root.querySelector(`[data-knob][name="${CSS.escape(key)}"]`);
    return slider?.closest<HTMLElement>(".knob") ?? null;
  }

  #remark(key: string, words: string): void {
    const place = this.root.querySelector<HTMLElement>(`[data-remark="${CSS.escape(key)}"]`);
    if (place && place.textContent !== words) place.textContent = words;
  }

  #choose(key: string, value: string): void {
    const place = this.root.querySelector<HTMLElement>(`[data-choice="${CSS.escape(key)}"]`);
    const list = place?.querySelector("select");
    if (list) list.value = value;
    const chosen = new Set(value.split(" "));
    for (const tick of place?.querySelectorAll<HTMLInputElement>("[type=checkbox]") ?? []) {
      tick.checked = chosen.has(tick.value);
    }
  }
}

/** What was chosen in a list or by ticks; null where nothing would be left ticked. */
export function chosen(target: EventTarget | null): { key: string; text: string } | null {
  if (!(target instanceof HTMLElement)) return null;
  const place = target.closest<HTMLElement>("[data-choice]");
  const key = place?.dataset["choice"];
  if (!place || !key) return null;
  const list = place.querySelector("select");
  if (list) return { key, text: list.value };
  const ticks = [...place.querySelectorAll<HTMLInputElement>("[type=checkbox]")];
  const text = ticks.filter((one) => one.checked).map((one) => one.value).join(" ");
  if (!text && target instanceof HTMLInputElement) target.checked = true;
  return text ? { key, text } : null;
}

function say(knob: HTMLElement, read: string): void {
  const place = knob.querySelector(".knob-read");
  if (place && read && place.textContent !== read) place.textContent = read;
}

function nameOf(knob: HTMLElement): string {
  return knob.querySelector<HTMLInputElement>("[data-knob]")?.name ?? "";
}
