/** The store in IndexedDB: what is told to be kept is on the disk. */
import { freshId } from "./ids.ts";
import type { Draft, Event, Of } from "./events.ts";
import type { Pack } from "./pack.ts";
import { CHOICES, NotKept, type Choices, type Photo, type SealedHere, type Store, type Taken } from "./store.ts";
import { keyOf } from "./pack.ts";

const NAME = "limen-card";
const VERSION = 1;
const STORES = ["packs", "events", "photos", "sealed", "meta"] as const;
type Name = (typeof STORES)[number];

/** Open the store; a `NotKept` where the browser refuses one. */
export async function openStore(name = NAME): Promise<Store> {
  try {
    const store = new Kept(await opened(name));
    await store.begin();
    return store;
  } catch (why) {
    throw why instanceof NotKept ? why : new NotKept(why);
  }
}

class Kept implements Store {
  readonly #database: IDBDatabase;
  #device = "";

  constructor(database: IDBDatabase) {
    this.#database = database;
    // Another tab has a newer card: this one must not hold it up.
    database.onversionchange = () => database.close();
  }

  /** Write once, so that a browser that keeps nothing is found out before the first tap. */
  async begin(): Promise<void> {
    this.#device = await this.#within(["meta"], "readwrite", (at) => {
      const known = at("meta").get("device") as IDBRequest<string | undefined>;
      const made = freshId();
      known.onsuccess = () => known.result ?? at("meta").put(made, "device");
      return () => known.result ?? made;
    });
  }

  taken(): Promise<Taken[]> {
    return this.#all("packs");
  }

  take(pack: Pack, visit: string, at: string): Promise<Taken> {
    const one: Taken = { key: keyOf(pack), pack, visit, at };
    return this.#within(["packs"], "readwrite", (store) => {
      store("packs").put(one);
      return () => one;
    });
  }

  leave(key: string): Promise<void> {
    return this.#within(["packs"], "readwrite", (store) => {
      store("packs").delete(key);
      return () => undefined;
    });
  }

  events(): Promise<Event[]> {
    return this.#all("events");
  }

  keep(drafts: readonly Draft[], of: Of, at: string, photo?: Photo, sealed?: SealedHere): Promise<Event[]> {
    const device = this.#device;
    return this.#within(["events", "photos", "sealed"], "readwrite", (store, guarded) => {
      const kept: Event[] = [];
      const own = IDBKeyRange.bound([device, 0], [device, Infinity]);
      const last = store("events").openKeyCursor(own, "prev");
      last.onsuccess = guarded(() => {
        const before = last.result ? Number((last.result.key as [string, number])[1]) : 0;
        drafts.forEach((draft, number) => {
          const event: Event = { id: freshId(), device, seq: before + number + 1, at, ...of, ...draft };
          store("events").add(event);
          kept.push(event);
        });
        if (photo) store("photos").put(photo);
        if (sealed) store("sealed").put(sealed);
      });
      return () => kept;
    });
  }

  photos(): Promise<Photo[]> {
    return this.#all("photos");
  }

  photoSent(sha256: string): Promise<void> {
    return this.#marked("photos", sha256);
  }

  sealed(): Promise<SealedHere[]> {
    return this.#all("sealed");
  }

  sealedSent(visit: string): Promise<void> {
    return this.#marked("sealed", visit);
  }

  async sent(): Promise<number> {
    return (await this.#meta<number>("sent")) ?? 0;
  }

  setSent(seq: number): Promise<void> {
    return this.#setMeta("sent", seq);
  }

  async choices(): Promise<Choices> {
    return { ...CHOICES, ...(await this.#meta<Choices>("choices")) };
  }

  setChoices(choices: Choices): Promise<void> {
    return this.#setMeta("choices", choices);
  }

  #all<T>(name: Name): Promise<T[]> {
    return this.#within([name], "readonly", (store) => {
      const asked = store(name).getAll() as IDBRequest<T[]>;
      return () => asked.result;
    });
  }

  #marked(name: Name, key: string): Promise<void> {
    return this.#within([name], "readwrite", (store) => {
      const asked = store(name).get(key) as IDBRequest<{ sent: boolean } | undefined>;
      asked.onsuccess = () => asked.result && store(name).put({ ...asked.result, sent: true });
      return () => undefined;
    });
  }

  #meta<T>(key: string): Promise<T | undefined> {
    return this.#within(["meta"], "readonly", (store) => {
      const asked = store("meta").get(key) as IDBRequest<T | undefined>;
      return () => asked.result;
    });
  }

  #setMeta(key: string, value: unknown): Promise<void> {
    return this.#within(["meta"], "readwrite", (store) => {
      store("meta").put(value, key);
      return () => undefined;
    });
  }

  /** One transaction; what it gives, once it is on the disk. */
  #within<T>(
    names: readonly Name[],
    mode: IDBTransactionMode,
    work: (store: (name: Name) => IDBObjectStore, guarded: (step: () => void) => () => void) => () => T,
  ): Promise<T> {
    return new Promise((resolve, reject) => {
      const refuse = (why: unknown) => reject(new NotKept(why));
      try {
        const transaction = this.#database.transaction(names, mode, { durability: "strict" });
        let thrown: unknown = null;
        // What a later step throws ends the transaction, and is the reason that is told.
        const guarded = (step: () => void) => () => {
          try {
            step();
          } catch (why) {
            thrown = why;
            transaction.abort();
          }
        };
        const given = work((name) => transaction.objectStore(name), guarded);
        transaction.oncomplete = () => resolve(given());
        transaction.onabort = () => refuse(thrown ?? transaction.error);
      } catch (why) {
        refuse(why);
      }
    });
  }
}

function opened(name: string): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(name, VERSION);
    asked.onupgradeneeded = () => made(asked.result);
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error("blocked"));
  });
}

function made(database: IDBDatabase): void {
  database.createObjectStore("packs", { keyPath: "key" });
  database.createObjectStore("events", { keyPath: ["device", "seq"] }).createIndex("id", "id", { unique: true });
  database.createObjectStore("photos", { keyPath: "sha256" });
  database.createObjectStore("sealed", { keyPath: "visit" });
  database.createObjectStore("meta");
}
