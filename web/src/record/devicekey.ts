/**
 * The key of this device: made here, kept by the browser, and never to be read by any
 * script. Its public half is shown, so that the firm can certify it; until then nothing
 * can be sealed here.
 *
 * A browser that is told to clear this site's data loses the key; a new one then needs
 * a new certificate, and what was sealed before stays as it is.
 */
import { certificateOf } from "./certifying.ts";
import { SealBroken } from "./sealing.ts";
import { canCheck, newPair, signing, type Signs } from "./signing.ts";

const DATABASE = "limen-device";
const STORE = "key";

interface Kept {
  pair: CryptoKeyPair;
  /** The certificate as the firm sealed it; null until there is one. */
  certificate: string | null;
}

export interface DeviceKey extends Signs {
  readonly certificate: string | null;
}

/** The key of this device; null if there is none, or the browser has no such keys. */
export async function deviceKey(): Promise<DeviceKey | null> {
  return (await possible()) ? withStore("readonly", (store) => store.get(STORE)).then(told) : null;
}

/** The key of this device, made now if there was none; null if the browser has no such keys. */
export async function makeDeviceKey(): Promise<DeviceKey | null> {
  if (!(await possible())) return null;
  const pair = await newPair();
  // Two pages may ask at once: the first one stands, and both are told of it.
  await withStore("readwrite", (store) => {
    const before = store.getKey(STORE);
    before.onsuccess = () => {
      if (before.result === undefined) store.put({ pair, certificate: null } satisfies Kept, STORE);
    };
    return before;
  });
  return deviceKey();
}

/**
 * Keep what the firm says of this device's key. Returns at what it failed: `none` there
 * is no key, `broken` that is no certificate, `other` it is of another device's key.
 */
export async function keepCertificate(sealed: string): Promise<"kept" | "none" | "broken" | "other"> {
  const key = await deviceKey();
  if (!key) return "none";
  const text = sealed.trim();
  try {
    const found = await certificateOf(new TextEncoder().encode(text));
    if (found.device !== key.publicKey) return "other";
  } catch (why) {
    if (why instanceof SealBroken) return "broken";
    throw why;
  }
  await withStore("readwrite", (store) => {
    const asked = store.get(STORE) as IDBRequest<Kept>;
    asked.onsuccess = () => store.put({ ...asked.result, certificate: text }, STORE);
    return asked;
  });
  return "kept";
}

/** Forget the key: a new one will be another device to everybody. */
export async function forgetDeviceKey(): Promise<void> {
  await withStore("readwrite", (store) => store.delete(STORE));
}

async function told(kept: unknown): Promise<DeviceKey | null> {
  if (kept === undefined) return null;
  const { pair, certificate } = kept as Kept;
  return { ...(await signing(pair)), certificate };
}

async function possible(): Promise<boolean> {
  return typeof indexedDB !== "undefined" && (await canCheck());
}

/** One transaction; what it was asked for, once it is on the disk. */
async function withStore<T>(mode: IDBTransactionMode, ask: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const database = await open();
  try {
    return await new Promise((resolve, reject) => {
      const transaction = database.transaction(STORE, mode, { durability: "strict" });
      const asked = ask(transaction.objectStore(STORE));
      transaction.oncomplete = () => resolve(asked.result);
      transaction.onabort = () => reject(transaction.error);
    });
  } finally {
    database.close();
  }
}

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(DATABASE, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(STORE);
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}
