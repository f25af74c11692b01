/**
 * The card: what is kept, where one is, what was tapped last. Whatever is tapped goes
 * through `keep`, and the page moves on only once it is on the disk.
 */
import type { Draft, Event, Of } from "./events.ts";
import { moment } from "./events.ts";
import { fold, takingBack, type Visit } from "./folding.ts";
import { freshId } from "./ids.ts";
import type { Pack } from "./pack.ts";
import { placeOf, toDoor, type Place } from "./routes.ts";
import type { Picking } from "./steps.ts";
import { CHOICES, NotKept, type Choices, type Photo, type SealedHere, type Store, type Taken } from "./store.ts";
import type { Sync } from "./sync.ts";
import { STILL, undoable, type Watch } from "./timing.ts";
import { Saying } from "./words.ts";

/** The door that is worked at, with its visit as it stands now. */
export interface Door {
  readonly key: string;
  readonly pack: Pack;
  readonly of: Of;
  readonly visit: Visit;
}

export interface Around {
  store: Store;
  sync: Sync | null;
  /** Milliseconds of a clock that nobody can set, and the time of day. */
  now: () => number;
  date: () => Date;
  pick: (pack: Pack) => Picking;
  words: Saying;
}

/** What puts the card before the eyes: a whole screen, or only what stands around it. */
export interface Screening {
  show(card: Card): void;
  /** State, trouble and what can be taken back; what was typed stays as it is. */
  tell(card: Card): void;
  /** What was typed on the screen is kept with the visit. */
  kept(): void;
}

interface Last {
  events: Event[];
  says: string;
  at: number;
  key: string;
}

/** A tap that falls this soon (ms) after the page changed was meant for what was there before. */
const REST = 450;

export class Card {
  readonly around: Around;
  taken: Taken[] = [];
  photos: Photo[] = [];
  sealed: SealedHere[] = [];
  choices: Choices = CHOICES;
  place: Place = { at: "home" };
  /** What went wrong with the last tap, in words. */
  trouble: string | null = null;
  /** Told whenever something was kept. */
  onKept: (() => void) | null = null;
  #events: Event[] = [];
  #last: Last | null = null;
  #changed = -REST;
  #keeping = false;
  readonly #watches = new Map<string, Watch>();
  readonly #screen: Screening;

  constructor(around: Around, screen: Screening) {
    this.around = around;
    this.#screen = screen;
  }

  get events(): readonly Event[] {
    return this.#events;
  }

  /** Read everything anew from the store. */
  async load(): Promise<void> {
    const { store } = this.around;
    [this.taken, this.#events, this.photos, this.sealed, this.choices] = await Promise.all([
      store.taken(),
      store.events(),
      store.photos(),
      store.sealed(),
      store.choices(),
    ]);
  }

  go(hash: string): void {
    this.place = placeOf(hash);
    this.trouble = null;
    this.#changed = this.around.now();
    this.show();
  }

  show(): void {
    this.#screen.show(this);
  }

  tell(): void {
    this.#screen.tell(this);
  }

  /** The doorway of this address, if it was taken along. */
  door(key: string): Door | null {
    const one = this.taken.find((taken) => taken.key === key);
    if (!one) return null;
    const of = { visit: one.visit, site: one.pack.site, doorway: one.pack.doorway };
    return { key, pack: one.pack, of, visit: fold(this.eventsOf(one.visit)) };
  }

  eventsOf(visit: string): Event[] {
    return this.#events.filter((one) => one.visit === visit);
  }

  /** Sentences: those of the pack for its own door, those of the page for the rest. */
  get words(): Saying {
    return this.around.words;
  }

  /** Whether the page stood long enough that a tap can be meant for it. */
  get rested(): boolean {
    return this.around.now() - this.#changed >= REST && !this.#keeping;
  }

  /**
   * Keep what was said and go on. Returns whether it was kept; where it was not, the
   * page stays as it is and says so.
   */
  async keep(door: Door, drafts: readonly Draft[], says: string, more: { to?: string; photo?: Photo; sealed?: SealedHere } = {}): Promise<boolean> {
    if (this.#keeping) return false;
    this.#keeping = true;
    try {
      const at = moment(this.around.date());
      const events = await this.around.store.keep(drafts, door.of, at, more.photo, more.sealed);
      this.#events = [...this.#events, ...events];
      if (more.photo) this.photos = [...this.photos.filter((one) => one.sha256 !== more.photo?.sha256), more.photo];
      if (more.sealed) this.sealed = [...this.sealed, more.sealed];
      this.#last = { events, says, at: this.around.now(), key: door.key };
      this.trouble = null;
    } catch (why) {
      this.trouble = this.#why(why);
      return false;
    } finally {
      this.#keeping = false;
      if (this.trouble) this.tell();
    }
    this.around.sync?.soon();
    this.onKept?.();
    if (drafts.some((one) => one.kind !== "undone")) this.#screen.kept();
    const to = more.to ?? toDoor(door.key);
    if (location.hash === to) this.go(to);
    else location.hash = to;
    return true;
  }

  /** What can still be taken back, and for how long (ms). */
  get undo(): { says: string; left: number; key: string } | null {
    const left = undoable(this.#last?.at ?? null, this.around.now());
    return this.#last && left > 0 ? { says: this.#last.says, left, key: this.#last.key } : null;
  }

  /** Take the last tap back, all that it said. */
  async takeBack(): Promise<void> {
    const last = this.#last;
    const door = last && this.door(last.key);
    if (!last || !door || !this.undo) return;
    const back = last.events.toReversed().map(takingBack);
    const of = back.map((one) => (one.kind === "undone" ? last.events.find((event) => event.id === one.said.event) : null));
    const first = of.find((one) => one?.kind === "step");
    const to = first?.kind === "step" ? toDoor(door.key, "step", first.said.step) : toDoor(door.key);
    if (await this.keep(door, back, "", { to })) this.#last = null;
    this.tell();
  }

  watch(id: string): Watch {
    return this.#watches.get(id) ?? STILL;
  }

  setWatch(id: string, watch: Watch): void {
    this.#watches.set(id, watch);
    this.tell();
  }

  get watching(): boolean {
    return [...this.#watches.values()].some((one) => one.since !== null);
  }

  async choose(choices: Partial<Choices>): Promise<void> {
    this.choices = { ...this.choices, ...choices };
    await this.#stored(this.around.store.setChoices(this.choices));
  }

  /** Take a doorway along, or its newer pack; a visit that is not sealed yet goes on. */
  async take(pack: Pack, anew = false): Promise<void> {
    const before = this.taken.find((one) => one.key === `${pack.site}/${pack.doorway}`);
    const closed = before && fold(this.eventsOf(before.visit)).sealed;
    const visit = before && !anew && !closed ? before.visit : freshId();
    await this.#stored(this.around.store.take(pack, visit, moment(this.around.date())));
    await this.load();
  }

  async leave(key: string): Promise<void> {
    await this.#stored(this.around.store.leave(key));
    await this.load();
    this.show();
  }

  async #stored(work: Promise<unknown>): Promise<void> {
    try {
      await work;
    } catch (why) {
      this.trouble = this.#why(why);
    }
    this.tell();
  }

  #why(why: unknown): string {
    const full = why instanceof NotKept && why.why === "full";
    return this.words.say(full ? "card.storage.full" : "card.storage.failed");
  }
}
