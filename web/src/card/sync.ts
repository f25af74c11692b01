/**
 * What is kept here goes to the desk: in this device's order, the same again whenever
 * it is not known to have arrived, and nothing is forgotten here because it was sent.
 */
import type { Event } from "./events.ts";
import type { Photo, SealedHere, Store } from "./store.ts";

export type Sent =
  | { kind: "kept"; clash: boolean }
  /** The desk takes this one never: the first that it refuses, and why. */
  | { kind: "refused"; upTo: number; why: string }
  | { kind: "unanswered"; why?: string };

/** The desk, as far as it takes things in. */
export interface DeskLine {
  /** Up to which number it has all of a device, and that event; null where it does not answer. */
  kept(device: string): Promise<{ seq: number; id: string | null } | null>;
  events(events: readonly Event[]): Promise<Sent>;
  photo(photo: Photo): Promise<Sent>;
  sealed(sealed: SealedHere): Promise<Sent>;
}

export interface SyncState {
  readonly kind: "rest" | "sending" | "unanswered" | "refused";
  readonly waiting: number;
  readonly why: string;
  readonly clash: boolean;
}

const MOST = 50; // events at once
const SOON = 1_500; // ms after a tap
const LATER = 30_000; // ms after the desk did not answer

export class Sync {
  readonly #store: Store;
  readonly #desk: DeskLine;
  readonly #told: (state: SyncState) => void;
  readonly #later: (work: () => void, milliseconds: number) => unknown;
  #state: SyncState = { kind: "rest", waiting: 0, why: "", clash: false };
  #running: Promise<void> | null = null;
  #again = false;
  #planned = false;

  constructor(
    store: Store,
    desk: DeskLine,
    told: (state: SyncState) => void,
    later: (work: () => void, milliseconds: number) => unknown = (work, ms) => setTimeout(work, ms),
  ) {
    this.#store = store;
    this.#desk = desk;
    this.#told = told;
    this.#later = later;
  }

  get state(): SyncState {
    return this.#state;
  }

  /** Send a little later: taps that follow each other go together. */
  soon(milliseconds = SOON): void {
    void this.#count();
    if (this.#planned) return;
    this.#planned = true;
    this.#later(() => {
      this.#planned = false;
      void this.run();
    }, milliseconds);
  }

  /** Send now; what is said meanwhile goes along. */
  run(): Promise<void> {
    this.#again = true;
    this.#running ??= this.#runs().finally(() => (this.#running = null));
    return this.#running;
  }

  async #runs(): Promise<void> {
    while (this.#again) {
      this.#again = false;
      const waiting = await waitingIn(this.#store);
      if (!waiting.events.length && !waiting.photos.length && !waiting.sealed.length) {
        this.#tell({ kind: "rest", waiting: 0, why: "" });
        continue;
      }
      this.#tell({ kind: "sending", waiting: waiting.events.length + waiting.photos.length });
      const went = await this.#send();
      const left = await waitingIn(this.#store);
      const count = left.events.length + left.photos.length;
      if (went.kind === "kept") this.#tell({ kind: "rest", waiting: count, why: "" });
      else this.#tell({ kind: went.kind, waiting: count, why: went.why ?? "" });
      if (went.kind === "unanswered") this.soon(LATER);
    }
  }

  /** Events, then photos, then seals: what comes later speaks of what came before. */
  async #send(): Promise<Sent> {
    const events = await this.#sendEvents();
    if (events.kind === "unanswered") return events;
    for (const photo of (await this.#store.photos()).filter((one) => !one.sent)) {
      const went = await this.#desk.photo(photo);
      if (went.kind === "unanswered") return went;
      if (went.kind === "kept") await this.#store.photoSent(photo.sha256);
      else return went;
    }
    for (const sealed of (await this.#store.sealed()).filter((one) => !one.sent)) {
      const went = await this.#desk.sealed(sealed);
      if (went.kind !== "kept") return went;
      await this.#store.sealedSent(sealed.visit);
    }
    return events;
  }

  async #sendEvents(): Promise<Sent> {
    const all = await this.#store.events();
    const [first] = all;
    if (!first) return { kind: "kept", clash: false };
    const kept = await this.#desk.kept(first.device);
    if (kept === null) return { kind: "unanswered" };
    // A device that was set up from a copy counts on from a number that others have used.
    const ours = kept.seq === 0 || all.some((one) => one.seq === kept.seq && one.id === kept.id);
    const highest = ours ? kept.seq : 0;
    await this.#store.setSent(highest);
    for (const batch of batches(all.filter((one) => one.seq > highest))) {
      const went = await this.#desk.events(batch);
      if (went.kind === "unanswered") return went;
      const upTo = went.kind === "kept" ? (batch.at(-1)?.seq ?? 0) : went.upTo;
      if (upTo > (await this.#store.sent())) await this.#store.setSent(upTo);
      if (went.kind === "refused") return went;
      if (went.clash) this.#tell({ clash: true });
    }
    return { kind: "kept", clash: false };
  }

  async #count(): Promise<void> {
    const { events, photos } = await waitingIn(this.#store);
    this.#tell({ waiting: events.length + photos.length });
  }

  #tell(said: Partial<SyncState>): void {
    this.#state = { ...this.#state, ...said };
    this.#told(this.#state);
  }
}

/** What the desk is not known to have. */
export async function waitingIn(store: Store): Promise<{ events: Event[]; photos: Photo[]; sealed: SealedHere[] }> {
  const [events, sent, photos, sealed] = await Promise.all([store.events(), store.sent(), store.photos(), store.sealed()]);
  return {
    events: events.filter((one) => one.seq > sent),
    photos: photos.filter((one) => !one.sent),
    sealed: sealed.filter((one) => !one.sent),
  };
}

/** Runs of events of one visit, none too long, in this device's order. */
export function batches(events: readonly Event[]): Event[][] {
  const made: Event[][] = [];
  for (const event of [...events].sort((a, b) => a.seq - b.seq)) {
    const last = made.at(-1);
    const before = last?.at(-1);
    if (last && before?.visit === event.visit && last.length < MOST) last.push(event);
    else made.push([event]);
  }
  return made;
}
