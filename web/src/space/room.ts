/** The place of the drawing in space on the page: the tool is fetched when it is opened. */
import type { Course } from "../walk/course.ts";
import type { Stand } from "./orbit.ts";
import type { Scene } from "./scene.ts";
import type { SpaceView } from "./view.ts";

export class Room {
  readonly #root: HTMLElement;
  #view: Promise<SpaceView | null> | null = null;
  #ready: SpaceView | null = null;
  /** What is to be shown once the tool is there: only the newest. */
  #scene: Scene | null = null;
  #time = 0;

  constructor(root: HTMLElement) {
    this.#root = root;
    this.#note(this.#word("waiting"));
    root.addEventListener("click", (event) => this.#pressed(event.target));
  }

  show(scene: Scene, course: Course | null): void {
    this.#scene = scene;
    this.#say("says", scene.says);
    this.#say("foot", scene.note);
    void this.#open().then((view) => {
      if (!view || this.#scene !== scene) return;
      view.show(scene, course);
      view.moment(this.#time);
    });
  }

  moment(time: number): void {
    this.#time = time;
    this.#ready?.moment(time);
  }

  #open(): Promise<SpaceView | null> {
    this.#view ??= this.#fetched();
    return this.#view;
  }

  async #fetched(): Promise<SpaceView | null> {
    if (!draws()) {
      this.#note(this.#word("missing"));
      return null;
    }
    try {
      const { SpaceView: Made } = await import("./view.ts");
      const place = this.#root.querySelector<HTMLElement>("[data-space]")!;
      place.hidden = false;
      this.#ready = new Made(this.#root.querySelector<HTMLElement>("[data-space-room]")!);
      this.#note("");
      return this.#ready;
    } catch (why) {
      this.#root.querySelector<HTMLElement>("[data-space]")!.hidden = true;
      this.#note(this.#word(why instanceof TypeError ? "lost" : "missing"));
      this.#view = null; // looked at again, it is tried again
      return null;
    }
  }

  #pressed(target: EventTarget | null): void {
    const button = target instanceof Element ? target.closest("button") : null;
    const { stand, turn } = button?.dataset ?? {};
    if (stand) this.#ready?.stand(stand as Stand);
    if (turn) this.#ready?.nearer(turn === "nearer" ? 1.25 : 0.8);
  }

  #note(words: string): void {
    const note = this.#root.querySelector<HTMLElement>("[data-space-note]")!;
    note.hidden = !words;
    note.textContent = words;
  }

  #say(part: string, words: string): void {
    const place = this.#root.querySelector<HTMLElement>(`[data-space-${part}]`);
    if (place && place.textContent !== words) place.textContent = words;
  }

  #word(name: string): string {
    return this.#root.getAttribute(`data-word-${name}`) ?? "";
  }
}

/** Whether this browser draws in space at all. */
function draws(): boolean {
  try {
    return document.createElement("canvas").getContext("webgl2") !== null;
  } catch {
    return false;
  }
}
