/** Words for those who do not see the drawing: said at rest, seldom while it moves. */

const SELDOM = 2000; // ms

export class Saying {
  readonly #place: HTMLElement | null;
  #last = 0;

  constructor(place: HTMLElement | null) {
    this.#place = place;
  }

  moving(words: string): void {
    const now = performance.now();
    if (now - this.#last < SELDOM) return;
    this.#last = now;
    this.#say(words);
  }

  rests(words: string): void {
    this.#last = performance.now();
    this.#say(words);
  }

  #say(words: string): void {
    if (this.#place && this.#place.textContent !== words) this.#place.textContent = words;
  }
}
