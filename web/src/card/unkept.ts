/**
 * What is typed or chosen on a screen and not kept with the visit yet: it outlives a
 * reload, a killed tab and a look at another screen, in this browser alone.
 */
import { forget, keep, kept } from "../held.ts";

const NAME = "limen.card.unkept";
/** Screens of which it is held; of those before nothing is. */
const MOST = 20;

type Field = HTMLInputElement | HTMLTextAreaElement;
type Fields = Record<string, string>;
type Held = [screen: string, fields: Fields][];

/** The fields of one screen. */
export class Unkept {
  readonly #within: HTMLElement;
  readonly #screen: string;

  /** Put back what was typed on this screen before, and hold what is typed from now on. */
  constructor(within: HTMLElement, screen: string) {
    this.#within = within;
    this.#screen = screen;
    const before = held().find(([name]) => name === screen)?.[1];
    if (before) this.#put(before);
    for (const kind of ["input", "change"]) within.addEventListener(kind, () => this.#hold());
  }

  /** It is kept with the visit, or not wanted any more. */
  forget(): void {
    write(held().filter(([name]) => name !== this.#screen));
  }

  #hold(): void {
    const fields: Fields = {};
    for (const one of this.#fields()) {
      if (changed(one)) fields[one.name] = one.value;
    }
    const others = held().filter(([name]) => name !== this.#screen);
    write(Object.keys(fields).length ? [...others, [this.#screen, fields]] : others);
  }

  #put(fields: Fields): void {
    // One after the other as they stand: a choice may bring in the fields after it.
    for (const [name, value] of Object.entries(fields)) {
      for (const one of this.#fields().filter((field) => field.name === name)) {
        if (!chosen(one)) one.value = value;
        else if (one.value === value && !one.checked) one.click();
      }
    }
  }

  #fields(): Field[] {
    const every = this.#within.querySelectorAll<Field>("input[name], textarea[name]");
    return [...every].filter((one) => one.type !== "password" && one.type !== "file" && one.type !== "checkbox");
  }
}

/** Whether it is one of several to choose among, not a line to type. */
function chosen(one: Field): one is HTMLInputElement {
  return one.type === "radio";
}

function changed(one: Field): boolean {
  return chosen(one) ? one.checked && !one.defaultChecked : one.value !== one.defaultValue;
}

function held(): Held {
  return kept(NAME, isHeld) ?? [];
}

function write(now: Held): void {
  if (now.length) keep(NAME, now.slice(-MOST));
  else forget(NAME);
}

function isHeld(found: unknown): found is Held {
  return Array.isArray(found) && found.every((one) => Array.isArray(one) && typeof one[0] === "string" && typeof one[1] === "object" && one[1] !== null);
}
