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
    let under = this.#start();
    while (under) {
      const { what, age, found } = await under;
      // The next is on its way while this one is drawn.
      under = this.#start();
      if (age === this.#age) this.#told(found, what);
      under ??= this.#start();
    }
    this.#under = false;
  }

  /** Ask what waits; null if nothing does. */
  #start(): Promise<{ what: What; age: number; found: Found }> | null {
    if (!this.#waiting) return null;
    const { what } = this.#waiting;
    const age = this.#age;
    this.#waiting = null;
    return this.#ask(what).then((found) => ({ what, age, found }));
  }
}
