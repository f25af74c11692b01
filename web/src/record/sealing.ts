/**
 * A text with its seal: `{"record":…,"seal":"<key><signature>"}`, all canonical. What is
 * signed is the text without its seal, `{"record":…}`; key and signature stand at places
 * that are known without reading the text.
 */
import { canonical, isTable, NotCanonical, read, type Plain, type Table } from "./canonical.ts";
import { signed, type Signs } from "./signing.ts";

/** At what a text failed; empty if it did not. */
export type Where = "" | "form" | "seal" | "text" | "certificate" | "size";

/** A text that is not what was sealed. */
export class SealBroken extends Error {
  readonly where: Where;

  constructor(where: Where) {
    super(where);
    this.where = where;
  }
}

export interface Sealed {
  readonly record: Table;
  /** Public half of the key that sealed it. */
  readonly key: string;
}

const OPEN = ',"seal":"';
const CLOSE = '"}';
const KEY_DIGITS = 64;
const TAIL = OPEN.length + KEY_DIGITS + 128 + CLOSE.length;
const BRACE = 0x7d;

/** A table, sealed. */
export async function seal(record: Table, key: Signs): Promise<Uint8Array<ArrayBuffer>> {
  const plain = canonical({ record });
  const tail = new TextEncoder().encode(`${OPEN}${key.publicKey}${await key.sign(plain)}${CLOSE}`);
  const text = new Uint8Array(plain.length - 1 + tail.length);
  text.set(plain.subarray(0, -1));
  text.set(tail, plain.length - 1);
  return text;
}

/** A record sealed by a device; its certificate, sealed by the firm, goes with it. */
export function sealRecord(record: Table, key: Signs, certificate: string): Promise<Uint8Array<ArrayBuffer>> {
  return seal({ ...record, by: certificate }, key);
}

/** What a sealed text says; its seal is checked on the raw bytes before they are read. */
export async function opened(text: Uint8Array): Promise<Sealed> {
  const cut = Math.max(0, text.length - TAIL);
  const tail = latin(text.subarray(cut));
  if (tail.length !== TAIL || !tail.startsWith(OPEN) || !tail.endsWith(CLOSE)) throw new SealBroken("form");
  const digits = tail.slice(OPEN.length, -CLOSE.length);
  const key = digits.slice(0, KEY_DIGITS);
  const body = new Uint8Array(cut + 1);
  body.set(text.subarray(0, cut));
  body[cut] = BRACE;
  if (!(await signed(key, digits.slice(KEY_DIGITS), body))) throw new SealBroken("seal");
  return { record: said(body), key };
}

/** Bytes as letters, one each. */
export function latin(bytes: Uint8Array): string {
  return new TextDecoder("latin1").decode(bytes);
}

function said(body: Uint8Array): Table {
  try {
    const record: Plain | undefined = read(body)["record"];
    if (isTable(record)) return record;
  } catch (why) {
    if (!(why instanceof NotCanonical)) throw why;
  }
  throw new SealBroken("text");
}
