/** One request under way; of those that come meanwhile only the newest is sent. */

export class Latest<What, Found> {
  readonly #ask: (what: What) => Promise<Found>;
  readonly #told: (found: Found, what: What) => void;
  #waiting: { what: What } | null = null;
  #under = false;
  #age = 0;

  constructor(ask: (what: What) => Promise<Found>, told: (found: Found, what: What) => void) {
    this.#ask = ask;
    this.#told = told;
  }

  ask(what: What): void {
    this.#waiting = { what };
    if (!this.#under) void this.#next();
  }

  /** What is under way is not wanted any more, nor what waits. */
  drop(): void {
    this.#waiting = null;
    this.#age += 1;
  }

  async #next(): Promise<void> {
    this.#under = true;
    while (this.#waiting) {
      const { what } = this.#waiting;
      const age = this.#age;
      this.#waiting = null;
      const found = await this.#ask(what);
      if (age === this.#age) this.#told(found, what);
    }
    this.#under = false;
  }
}
