/**
 * The late walk in true time: played, stopped, looked at instant by instant. What
 * happens when was computed by the server; here it is only shown.
 */
import { send } from "../asking.ts";
import type { Grip } from "../doorway/replies.ts";
import type { Scene } from "../space/scene.ts";
import { type Course, now, type Now } from "./course.ts";
import type { Lies } from "./plan.ts";
import "./walk.css";

const PLAYED_IN = ["plan", "space"];
const LEGIBLE = 0.87; // a drawing painted smaller than this is asked for anew

/** What the server answers. */
export interface Played extends Lies {
  finding: string;
  view: string;
  course: Course;
  svg?: string;
  per_metre?: number;
  grips?: Grip[];
  space?: Scene;
  html: string;
}

/** Where a walk is shown: it puts what stands still in place and moves the rest. */
export interface Stage {
  /** How wide a view is painted (px), and how much smaller than it was drawn. */
  width(view: string): number;
  shrunk(view: string): number;
  set(played: Played): ((moment: Now, time: number) => void) | null;
}

export class Player {
  readonly #root: HTMLElement;
  readonly #address: string;
  readonly #stage: Stage;
  readonly #scrub: HTMLInputElement;
  #finding = "";
  #view = "plan";
  #age = 0;
  #played: Played | null = null;
  #move: ((moment: Now, time: number) => void) | null = null;
  #time = 0;
  #speed = 1;
  #last = 0;
  #frame = 0;

  constructor(root: HTMLElement, address: string, stage: Stage) {
    this.#root = root;
    this.#address = address;
    this.#stage = stage;
    this.#scrub = root.querySelector<HTMLInputElement>("[data-walk-scrub]")!;
    this.#scrub.addEventListener("input", () => {
      this.#pause();
      this.#show(Number(this.#scrub.value));
    });
    root.addEventListener("change", (event) => this.#paced(event));
    root.querySelector("[data-walk-play]")!.addEventListener("click", () => this.#press());
  }

  /** What is drawn rests: its walk is shown, if it has one. */
  rests(finding: string, view: string): void {
    const other = finding !== this.#finding;
    if (other) this.#pause();
    this.#finding = finding;
    this.#view = view;
    this.#age += 1;
    this.#root.inert = false;
    this.#move = null;
    this.#root.hidden = !finding || !PLAYED_IN.includes(view);
    if (!this.#root.hidden) void this.#ask(other, 1);
    else this.#pause();
  }

  /** A setting is being turned: the walk is of a moment ago. */
  waits(): void {
    this.#age += 1;
    this.#pause();
    this.#move = null;
    this.#root.inert = true;
  }

  async #ask(anew: boolean, share: number): Promise<void> {
    const age = this.#age;
    const width = Math.round(Math.max(320, share * this.#stage.width(this.#view)));
    const query = new URLSearchParams({ finding: this.#finding, view: this.#view, width: String(width) });
    const answer = await send("GET", `${this.#address}/walk?${query}`);
    if (age !== this.#age) return;
    if (answer.kind !== "done") {
      this.#root.hidden = true;
      return;
    }
    const played = answer.body as Played;
    this.#move = this.#stage.set(played);
    this.#fill(played);
    const shrunk = this.#view === "plan" ? this.#stage.shrunk(this.#view) : 1;
    if (share === 1 && shrunk < LEGIBLE && width > 600) void this.#ask(anew, Math.max(shrunk, 600 / width));
    else if (anew) this.#begin();
    else this.#show(this.#time);
  }

  /** A walk that was not shown before plays once, unless motion is not wanted. */
  #begin(): void {
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    this.#show(still ? this.#played!.course.arrives : 0);
    if (!still) this.#play();
  }

  #fill(played: Played): void {
    this.#played = played;
    this.#scrub.max = String(played.course.ends);
    const table = this.#root.querySelector("[data-walk-table]")!;
    const open = table.querySelector("details")?.open ?? false;
    table.innerHTML = played.html;
    table.querySelector("details")?.toggleAttribute("open", open);
    this.#put("end", this.#seconds(played.course.ends));
  }

  // Playing -----------------------------------------------------------------------

  #press(): void {
    if (this.#frame) {
      this.#pause();
      return;
    }
    const ends = this.#played?.course.ends ?? 0;
    if (this.#time >= ends - 0.01) this.#show(0);
    this.#play();
  }

  #play(): void {
    this.#last = performance.now();
    this.#name("pause");
    const step = (at: number): void => {
      const course = this.#played?.course;
      if (!course) return;
      const time = this.#time + (this.#speed * Math.max(0, at - this.#last)) / 1000;
      this.#last = at;
      this.#show(Math.min(time, course.ends));
      if (time >= course.ends) this.#pause();
      else this.#frame = requestAnimationFrame(step);
    };
    this.#frame = requestAnimationFrame(step);
  }

  #pause(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#name("play");
  }

  #paced(event: Event): void {
    const input = event.target;
    if (input instanceof HTMLInputElement && input.name === "walk-speed") {
      event.stopPropagation(); // no setting of the door
      this.#speed = Number(input.value);
    }
  }

  // Showing -----------------------------------------------------------------------

  #show(time: number): void {
    const played = this.#played;
    if (!played) return;
    this.#time = time;
    const moment = now(played.course, time);
    this.#move?.(moment, time);
    this.#scrub.value = String(time);
    const share = played.course.ends > 0 ? (100 * time) / played.course.ends : 0;
    this.#scrub.style.setProperty("--done", `${share}%`);
    const said = this.#happened(time);
    this.#put("now", this.#seconds(time));
    this.#put("says", said);
    this.#put("open", moment.open);
    this.#scrub.setAttribute("aria-valuetext", `${this.#seconds(time)}. ${said} ${moment.open}`);
  }

  /** The last that happened, marked in the table too. */
  #happened(time: number): string {
    const rows = [...this.#root.querySelectorAll<HTMLElement>("tr[data-at]")];
    const past = rows.filter((row) => Number(row.dataset["at"]) <= time + 0.001);
    const last = past[past.length - 1];
    for (const row of rows) row.toggleAttribute("data-now", row === last);
    return last?.querySelector("td:last-child")?.textContent ?? "";
  }

  #seconds(time: number): string {
    const tenths = { minimumFractionDigits: 1, maximumFractionDigits: 1 };
    const said = new Intl.NumberFormat(document.documentElement.lang || "en", tenths).format(time);
    return (this.#root.dataset["wordSeconds"] ?? "{time}").replace("{time}", said);
  }

  #name(does: "play" | "pause"): void {
    const button = this.#root.querySelector<HTMLElement>("[data-walk-play]")!;
    button.dataset["does"] = does;
    button.setAttribute("aria-label", this.#root.getAttribute(`data-word-${does}`) ?? "");
  }

  #put(part: string, words: string): void {
    const place = this.#root.querySelector<HTMLElement>(`[data-walk-${part}]`);
    if (place && place.textContent !== words) place.textContent = words;
  }
}
