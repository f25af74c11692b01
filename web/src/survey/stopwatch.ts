/**
 * A stopwatch for three runs. The moment that counts is that of the press, not of its
 * release, nor of when the page comes to it.
 */
import { written } from "../numbers.ts";

const RUNS = 3;

interface Timed {
  number: number;
  since: number;
}

export function wireWatch(box: HTMLElement, form: HTMLFormElement): void {
  const key = box.dataset["watch"] ?? "";
  const entries = Array.from({ length: RUNS }, (_, at) =>
    form.querySelector<HTMLInputElement>(`[name="${key}_${at + 1}"]`),
  ).filter((one) => one !== null);
  const press = box.querySelector<HTMLButtonElement>("[data-watch-press]");
  if (press && entries.length === RUNS) new Watch(box, press, entries);
}

class Watch {
  readonly #box: HTMLElement;
  readonly #button: HTMLButtonElement;
  readonly #entries: HTMLInputElement[];
  readonly #before: string[][] = [];
  #timed: Timed | null = null;
  #pressed = false;

  constructor(box: HTMLElement, button: HTMLButtonElement, entries: HTMLInputElement[]) {
    this.#box = box;
    this.#button = button;
    this.#entries = entries;
    this.#listen();
    this.#show();
  }

  #listen(): void {
    const button = this.#button;
    button.addEventListener("pointerdown", (event) => {
      if (!event.isPrimary || event.button !== 0) return;
      this.#pressed = true;
      this.#press(event.timeStamp);
    });
    // A finger that goes on to scroll has not pressed.
    button.addEventListener("pointercancel", () => this.#drop());
    addEventListener("pointerup", () => setTimeout(() => (this.#pressed = false)));
    button.addEventListener("keydown", (event) => {
      if (event.key !== " " && event.key !== "Enter") return;
      event.preventDefault();
      if (!event.repeat) this.#press(event.timeStamp);
    });
    button.addEventListener("keyup", (event) => event.key === " " && event.preventDefault());
    // Screen readers press without a pointer and without a key.
    button.addEventListener("click", (event) => this.#pressed || this.#press(event.timeStamp));
    this.#part("undo")?.addEventListener("click", () => this.#undo());
    this.#part("drop")?.addEventListener("click", () => this.#dropped());
    document.addEventListener("keydown", (event) => event.key === "Escape" && this.#timed && this.#dropped());
    for (const entry of this.#entries) entry.addEventListener("input", () => this.#show());
  }

  #press(at: number): void {
    if (this.#timed) this.#stop(at, this.#timed);
    else if (this.#next() === null) this.#clear();
    else this.#start(at);
  }

  #start(at: number): void {
    const number = this.#next() ?? 1;
    this.#timed = { number, since: at };
    this.#say("running", number);
    this.#show();
    this.#tick();
  }

  #stop(at: number, timed: Timed): void {
    const time = Math.max(at - timed.since, 0) / 1000;
    this.#timed = null;
    this.#keep((runs) => runs.map((run, place) => (place + 1 === timed.number ? seconds(time) : run)));
    this.#say("took", timed.number, seconds(time));
  }

  #clear(): void {
    this.#keep((runs) => runs.map(() => ""));
    this.#say("cleared");
  }

  #undo(): void {
    const before = this.#before.pop();
    if (before) this.#put(before);
    this.#say("back");
  }

  #dropped(): void {
    const number = this.#timed?.number ?? 1;
    this.#drop();
    this.#say("gone", number);
    this.#button.focus();
  }

  #drop(): void {
    this.#timed = null;
    this.#show();
  }

  /** Change the runs; Undo brings back what they were. */
  #keep(change: (runs: string[]) => string[]): void {
    const runs = this.#entries.map((entry) => entry.value);
    this.#before.push(runs);
    this.#put(change(runs));
  }

  #put(runs: string[]): void {
    this.#entries.forEach((entry, place) => (entry.value = runs[place] ?? ""));
    this.#entries[0]?.dispatchEvent(new Event("input", { bubbles: true }));
    this.#show();
  }

  #next(): number | null {
    const open = this.#entries.findIndex((entry) => !entry.value.trim());
    return open < 0 ? null : open + 1;
  }

  #tick(): void {
    if (!this.#timed) return;
    this.#time((performance.now() - this.#timed.since) / 1000);
    requestAnimationFrame(() => this.#tick());
  }

  #time(passed: number): void {
    const shown = this.#part("time");
    if (shown) shown.textContent = seconds(Math.max(passed, 0));
  }

  #show(): void {
    const next = this.#next();
    const word = this.#timed ? this.#word("stop") : next === null ? this.#word("again") : this.#word("start", next);
    const doing = this.#part("do");
    if (doing) doing.textContent = word;
    this.#box.toggleAttribute("data-running", this.#timed !== null);
    this.#part("drop")?.toggleAttribute("hidden", this.#timed === null);
    const undo = this.#part("undo");
    if (undo instanceof HTMLButtonElement) undo.disabled = !this.#before.length || this.#timed !== null;
    if (!this.#timed) this.#time(this.#last());
  }

  #last(): number {
    const typed = this.#entries.map((entry) => Number(entry.value.replace(",", "."))).filter((one) => one > 0);
    return typed.at(-1) ?? 0;
  }

  #part(name: string): HTMLElement | null {
    return this.#box.querySelector<HTMLElement>(`[data-watch-${name}]`);
  }

  #word(name: string, number = 1, time = ""): string {
    const said = this.#box.dataset[`word${name[0]?.toUpperCase()}${name.slice(1)}`] ?? "";
    return said.replace("{number}", String(number)).replace("{time}", time);
  }

  #say(name: string, number = 1, time = ""): void {
    const said = this.#part("says");
    if (said) said.textContent = this.#word(name, number, time);
  }
}

/** Hundredths, with the comma or point of the page's language. */
function seconds(time: number): string {
  return written(time.toFixed(2));
}
