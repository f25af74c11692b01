/** The drawing: put in place without a flicker, and taken hold of. */
import { Room } from "../space/room.ts";
import { PlanWalk } from "../walk/plan.ts";
import { type Played, Player, type Stage } from "../walk/player.ts";
import type { Drawn, Grip } from "./replies.ts";

const STEP = 5; // mm that a unit moves along the header while it is dragged
const KEY_STEP = 10; // mm a press of an arrow key; 1 with Shift
const KEYS_REST = 500; // ms without a key

/** A unit moved along the header: where to (mm), and whether it rests there. */
export type Moved = (fitting: string, along: number, rests: boolean) => void;

interface Held {
  grip: HTMLElement;
  from: number;
  at: number;
}

export class Drawing {
  readonly #root: HTMLElement;
  readonly #moved: Moved;
  readonly #room: Room | null;
  readonly #walk: HTMLElement | null;
  readonly #player: Player | null;
  #held: Held | null = null;
  #keyed: HTMLElement | null = null;
  #rests = 0;

  constructor(root: HTMLElement, moved: Moved) {
    this.#root = root;
    this.#moved = moved;
    root.addEventListener("pointerdown", (event) => this.#take(event));
    root.addEventListener("pointermove", (event) => this.#drag(event));
    root.addEventListener("pointerup", () => this.#let());
    root.addEventListener("pointercancel", () => this.#let());
    root.addEventListener("keydown", (event) => this.#key(event));
    const seen = new ResizeObserver(() => this.place());
    for (const one of root.querySelectorAll(".drawing")) seen.observe(one);
    const space = root.querySelector<HTMLElement>(".drawing[data-view=space]");
    this.#room = space && new Room(space);
    const page = root.closest<HTMLElement>("[data-address]");
    this.#walk = page?.querySelector<HTMLElement>("[data-walk]") ?? null;
    this.#player = this.#walk && new Player(this.#walk, page?.dataset["address"] ?? "", this.#stage());
    this.place();
  }

  /** Play the walk that came with the page, where it is not asked for anew. */
  begin(view: string): void {
    this.#player?.rests(this.#walk?.dataset["walk"] ?? "", view);
  }

  /** Show a drawing; the other views are of before, until they are asked for. */
  show(drawn: Drawn): void {
    for (const one of this.#root.querySelectorAll<HTMLElement>(".drawing")) {
      if (one.dataset["view"] === drawn.view) put(one, drawn);
      else one.dataset["stale"] = "";
    }
    if (drawn.space) this.#room?.show(drawn.space, null);
    this.#grips(drawn);
    this.place();
    if (drawn.walk === undefined) this.#player?.waits();
    else this.#player?.rests(drawn.walk, drawn.view);
  }

  /** The unit that is taken hold of where one hides another. */
  choose(unit: string): void {
    for (const grip of this.#root.querySelectorAll<HTMLElement>("[data-grip]")) {
      grip.toggleAttribute("data-chosen", grip.dataset["grip"] === unit);
    }
    this.#uncover();
  }

  /** How much smaller a view is painted than it was drawn, 1 at most. */
  shrunk(view: string): number {
    const svg = this.#sheet(view)?.querySelector<SVGSVGElement>(":scope > svg");
    return Math.min(1, svg?.getScreenCTM()?.a || 1);
  }

  /** Put every grip over its unit, wherever the drawing has come to lie. */
  place(): void {
    for (const grip of this.#root.querySelectorAll<HTMLElement>("[data-grip]")) {
      if (grip !== this.#held?.grip) lay(grip);
    }
    this.#uncover();
  }

  /** Where two would lie over each other, only the chosen unit is taken hold of. */
  #uncover(): void {
    for (const sheet of this.#root.querySelectorAll("[data-sheet]")) {
      const grips = [...sheet.querySelectorAll<HTMLElement>("[data-grip]")];
      const chosen = grips.find((grip) => "chosen" in grip.dataset);
      for (const grip of grips) {
        grip.toggleAttribute("data-covered", !!chosen && grip !== chosen && meet(grip, chosen));
      }
    }
  }

  /** Where walks are shown: what stands still is put in place of the drawing. */
  #stage(): Stage {
    return {
      width: (view) => this.#root.querySelector(`.drawing[data-view="${view}"]`)?.clientWidth ?? 0,
      shrunk: (view) => this.shrunk(view),
      set: (played) => (played.space ? this.#inSpace(played, played.space) : this.#inPlan(played)),
    };
  }

  #inSpace(played: Played, space: NonNullable<Played["space"]>): (moment: unknown, time: number) => void {
    this.#room?.show(space, played.course);
    return (_, time) => this.#room?.moment(time);
  }

  #inPlan(played: Played): ReturnType<Stage["set"]> {
    const sheet = this.#sheet(played.view);
    if (!sheet || !played.svg) return null;
    swap(sheet, played.svg);
    sheet.closest<HTMLElement>(".drawing")!.dataset["perMetre"] = String(played.per_metre ?? 0);
    this.#grips({ view: played.view, grips: played.grips ?? [] });
    this.place();
    const svg = sheet.querySelector<SVGSVGElement>(":scope > svg");
    const walk = svg && new PlanWalk(svg, played.course, played);
    return walk && ((moment) => walk.show(moment));
  }

  #grips(drawn: Pick<Drawn, "view" | "grips">): void {
    const sheet = this.#sheet(drawn.view);
    if (!sheet) return;
    for (const one of drawn.grips) {
      const grip = sheet.querySelector<HTMLElement>(`[data-grip="${one.fitting}"]`);
      if (grip) write(grip, one, grip === this.#held?.grip || grip === this.#keyed);
    }
  }

  #sheet(view: string): HTMLElement | null {
    return this.#root.querySelector<HTMLElement>(`.drawing[data-view="${view}"] [data-sheet]`);
  }

  #take(event: PointerEvent): void {
    const grip = gripOf(event.target);
    if (!grip || event.button !== 0) return;
    grip.setPointerCapture(event.pointerId);
    this.#held = { grip, from: event.clientX, at: Number(grip.getAttribute("aria-valuenow")) };
  }

  #drag(event: PointerEvent): void {
    const held = this.#held;
    const scale = held ? perMetre(held.grip) : 0;
    if (!held || !scale) return;
    const step = event.shiftKey ? 1 : STEP;
    const far = (1000 * (event.clientX - held.from)) / scale;
    const to = within(held.grip, Math.round((held.at + far) / step) * step);
    if (to === Number(held.grip.getAttribute("aria-valuenow"))) return;
    shift(held.grip, to - held.at, scale);
    held.grip.setAttribute("aria-valuenow", String(to));
    this.#moved(held.grip.dataset["grip"]!, to, false);
  }

  #let(): void {
    const held = this.#held;
    if (!held) return;
    this.#held = null;
    const at = Number(held.grip.getAttribute("aria-valuenow"));
    if (at !== held.at) this.#moved(held.grip.dataset["grip"]!, at, true);
  }

  #key(event: KeyboardEvent): void {
    const grip = gripOf(event.target);
    if (!grip) return;
    const step = event.shiftKey ? 1 : KEY_STEP;
    const at = Number(grip.getAttribute("aria-valuenow"));
    // On a turned plan the unit goes where the arrow points, not where it counts up.
    const right = perMetre(grip) < 0 ? -step : step;
    const ways: Record<string, number> = {
      ArrowLeft: at - right,
      ArrowDown: at - step,
      ArrowRight: at + right,
      ArrowUp: at + step,
      Home: -Infinity,
      End: Infinity,
    };
    const way = ways[event.key];
    if (way === undefined) return;
    event.preventDefault();
    const to = within(grip, way);
    grip.setAttribute("aria-valuenow", String(to));
    const fitting = grip.dataset["grip"]!;
    this.#keyed = grip;
    this.#moved(fitting, to, false);
    clearTimeout(this.#rests);
    this.#rests = window.setTimeout(() => {
      this.#keyed = null;
      this.#moved(fitting, to, true);
    }, KEYS_REST);
  }
}

function put(one: HTMLElement, drawn: Drawn): void {
  const sheet = one.querySelector<HTMLElement>("[data-sheet]");
  if (sheet) swap(sheet, drawn.svg);
  one.dataset["perMetre"] = String(drawn.per_metre);
  delete one.dataset["stale"];
}

function swap(sheet: HTMLElement, svg: string): void {
  const fresh = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  sheet.querySelector(":scope > svg")?.replaceWith(document.importNode(fresh, true));
}

function write(grip: HTMLElement, one: Grip, busy: boolean): void {
  grip.dataset["x"] = String(one.x);
  grip.dataset["y"] = String(one.y);
  grip.setAttribute("aria-valuetext", one.says);
  if (!busy) grip.setAttribute("aria-valuenow", String(one.along));
}

function gripOf(target: EventTarget | null): HTMLElement | null {
  return target instanceof Element ? target.closest<HTMLElement>("[data-grip]") : null;
}

function within(grip: HTMLElement, to: number): number {
  const reach = Number(grip.getAttribute("aria-valuemax"));
  return Math.min(reach, Math.max(-reach, to));
}

/** Pixels of the screen a metre. */
function perMetre(grip: HTMLElement): number {
  const drawing = grip.closest<HTMLElement>(".drawing");
  const svg = drawing?.querySelector<SVGSVGElement>("svg.limen-drawing");
  const matrix = svg?.getScreenCTM();
  if (!drawing || !svg || !matrix) return 0;
  return (matrix.a * svg.viewBox.baseVal.width * Number(drawing.dataset["perMetre"])) / 100;
}

/** Lay a grip over its place in the drawing, which is smaller than its box. */
function lay(grip: HTMLElement): void {
  const sheet = grip.parentElement;
  const svg = sheet?.querySelector<SVGSVGElement>("svg.limen-drawing");
  const matrix = svg?.getScreenCTM();
  if (!sheet || !svg || !matrix) return;
  const { width, height } = svg.viewBox.baseVal;
  const x = (width * Number(grip.dataset["x"])) / 100;
  const y = (height * Number(grip.dataset["y"])) / 100;
  // A narrow drawing shows a part of the door; what is beside it cannot be held.
  grip.toggleAttribute("data-beside", x < 0 || x > width || y < 0 || y > height);
  const box = sheet.getBoundingClientRect();
  grip.style.left = `${matrix.a * x + matrix.e - box.left}px`;
  grip.style.top = `${matrix.d * y + matrix.f - box.top}px`;
  grip.dataset["left"] = String(matrix.a * x + matrix.e - box.left);
}

/** Whether less than a finger's width of one grip is left beside another. */
function meet(one: HTMLElement, other: HTMLElement): boolean {
  const [a, b] = [one.getBoundingClientRect(), other.getBoundingClientRect()];
  const across = Math.abs(a.left + a.right - b.left - b.right) / 2;
  const down = Math.abs(a.top + a.bottom - b.top - b.bottom) / 2;
  return b.height > 0 && across < (a.width + b.width) / 2 && down < (a.height + b.height) / 2;
}

/** Follow the pointer at once; the drawing comes after. */
function shift(grip: HTMLElement, millimetres: number, scale: number): void {
  grip.style.left = `${Number(grip.dataset["left"]) + (millimetres * scale) / 1000}px`;
}
