/**
 * The store as one text: in localStorage, where a browser has no database for files, or
 * in memory alone. A text is replaced whole, so that a tap is kept or not, never in half.
 */
import { freshId } from "./ids.ts";
import type { Draft, Event, Of } from "./events.ts";
import { keyOf, type Pack } from "./pack.ts";
import { CHOICES, NotKept, type Choices, type Photo, type SealedHere, type Store, type Taken } from "./store.ts";

const NAME = "limen-card";

/** A photo whose file is written as a data address. */
type Written = Omit<Photo, "file"> & { file: string };

interface All {
  device: string;
  taken: Taken[];
  events: Event[];
  photos: Written[];
  sealed: SealedHere[];
  choices: Choices;
  sent: number;
}

/** Where a text is kept. */
export interface Shelf {
  get(): string | null;
  set(text: string): void;
}

/** A store in localStorage; null where the browser keeps none. */
export function keptInText(): Store | null {
  try {
    const shelf = {
      get: () => localStorage.getItem(NAME),
      set: (text: string) => localStorage.setItem(NAME, text),
    };
    shelf.set(shelf.get() ?? written(fresh()));
    return new TextStore(shelf);
  } catch {
    return null;
  }
}

/** A store that ends with the page. */
export function memory(): Store {
  let kept: string | null = null;
  return new TextStore({ get: () => kept, set: (text) => (kept = text) });
}

export class TextStore implements Store {
  readonly #shelf: Shelf;

  constructor(shelf: Shelf) {
    this.#shelf = shelf;
  }

  async taken(): Promise<Taken[]> {
    return this.#all().taken;
  }

  async take(pack: Pack, visit: string, at: string): Promise<Taken> {
    const one: Taken = { key: keyOf(pack), pack, visit, at };
    this.#change((all) => ({ ...all, taken: [...all.taken.filter((other) => other.key !== one.key), one] }));
    return one;
  }

  async leave(key: string): Promise<void> {
    this.#change((all) => ({ ...all, taken: all.taken.filter((one) => one.key !== key) }));
  }

  async events(): Promise<Event[]> {
    return this.#all().events;
  }

  async keep(drafts: readonly Draft[], of: Of, at: string, photo?: Photo, sealed?: SealedHere): Promise<Event[]> {
    // What waits comes first: from reading to writing nothing else may get between.
    const picture = photo ? { ...photo, file: await address(photo.file) } : null;
    let kept: Event[] = [];
    this.#change((all) => {
      const before = Math.max(0, ...all.events.filter((one) => one.device === all.device).map((one) => one.seq));
      kept = drafts.map((draft, number): Event => ({ id: freshId(), device: all.device, seq: before + number + 1, at, ...of, ...draft }));
      return {
        ...all,
        events: [...all.events, ...kept],
        photos: picture ? [...all.photos.filter((one) => one.sha256 !== picture.sha256), picture] : all.photos,
        sealed: sealed ? [...all.sealed.filter((one) => one.visit !== sealed.visit), sealed] : all.sealed,
      };
    });
    return kept;
  }

  async photos(): Promise<Photo[]> {
    return this.#all().photos.map((one) => ({ ...one, file: blob(one.file) }));
  }

  async photoSent(sha256: string): Promise<void> {
    this.#change((all) => ({ ...all, photos: all.photos.map((one) => (one.sha256 === sha256 ? { ...one, sent: true } : one)) }));
  }

  async sealed(): Promise<SealedHere[]> {
    return this.#all().sealed;
  }

  async sealedSent(visit: string): Promise<void> {
    this.#change((all) => ({ ...all, sealed: all.sealed.map((one) => (one.visit === visit ? { ...one, sent: true } : one)) }));
  }

  async sent(): Promise<number> {
    return this.#all().sent;
  }

  async setSent(sent: number): Promise<void> {
    this.#change((all) => ({ ...all, sent }));
  }

  async choices(): Promise<Choices> {
    return { ...CHOICES, ...this.#all().choices };
  }

  async setChoices(choices: Choices): Promise<void> {
    this.#change((all) => ({ ...all, choices }));
  }

  #all(): All {
    try {
      const text = this.#shelf.get();
      return text === null ? fresh() : (JSON.parse(text) as All);
    } catch (why) {
      throw new NotKept(why);
    }
  }

  #change(how: (all: All) => All): void {
    const changed = written(how(this.#all()));
    try {
      this.#shelf.set(changed);
      // A browser that forgets at once keeps nothing.
      if (this.#shelf.get() !== changed) throw new Error("forgotten");
    } catch (why) {
      throw new NotKept(why);
    }
  }
}

function fresh(): All {
  return { device: freshId(), taken: [], events: [], photos: [], sealed: [], choices: CHOICES, sent: 0 };
}

function written(all: All): string {
  return JSON.stringify(all);
}

function address(file: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result));
    reader.onerror = () => reject(new NotKept(reader.error));
    reader.readAsDataURL(file);
  });
}

function blob(data: string): Blob {
  const [head = "", base64 = ""] = data.split(",");
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  return new Blob([bytes], { type: /^data:([^;]+)/.exec(head)?.[1] ?? "image/jpeg" });
}
