/**
 * One text for one value: canonical JSON (RFC 8785), written and read strictly, byte
 * for byte as the desk does.
 */

export type Plain = null | boolean | number | string | readonly Plain[] | { readonly [key: string]: Plain };
export type Table = { readonly [key: string]: Plain };

/** A text that is not the one text of its value, or a value that has none. */
export class NotCanonical extends Error {}

const DEEPEST = 60; // levels; deeper texts are made to exhaust their reader
const HALF = /\p{Surrogate}/u; // half a character, which UTF-8 cannot write

/** The one text of a value, in UTF-8. */
export function canonical(value: Plain): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(written(value, 0));
}

/** The table that a canonical text says. */
export function read(text: Uint8Array): Table {
  if (depth(text) > DEEPEST) throw new NotCanonical("too deep");
  const value = parsed(text);
  if (!isTable(value)) throw new NotCanonical("not a table");
  if (!same(canonical(value), text)) throw new NotCanonical("not in canonical form");
  return value;
}

export function isTable(value: unknown): value is Table {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

export function same(one: Uint8Array, other: Uint8Array): boolean {
  return one.length === other.length && one.every((byte, at) => byte === other[at]);
}

function parsed(text: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(text));
  } catch (why) {
    throw new NotCanonical(String(why));
  }
}

/** Numbers and words are written by RFC 8785 as this language writes them by itself. */
function written(value: Plain, level: number): string {
  if (level > 2 * DEEPEST) throw new NotCanonical("too deep");
  if (Array.isArray(value)) return `[${value.map((one: Plain) => written(one, level + 1)).join(",")}]`;
  if (isTable(value)) return `{${members(value, level).join(",")}}`;
  if (typeof value === "number" && !Number.isFinite(value)) throw new NotCanonical("not a number");
  if (typeof value === "string" && HALF.test(value)) throw new NotCanonical("half a character");
  if (value !== null && !["boolean", "number", "string"].includes(typeof value)) {
    throw new NotCanonical(`${typeof value} has no text`);
  }
  return JSON.stringify(value);
}

/** Keys in the order of their UTF-16 code units, which is how this language sorts. */
function members(table: Table, level: number): string[] {
  return Object.keys(table)
    .sort()
    .map((key) => `${written(key, level + 1)}:${written(table[key] as Plain, level + 1)}`);
}

/** How deep brackets are open at most, those inside words counted too. */
function depth(text: Uint8Array): number {
  let deep = 0;
  let most = 0;
  for (const byte of text) {
    if (byte === 0x5b || byte === 0x7b) most = Math.max(most, ++deep);
    else if (byte === 0x5d || byte === 0x7d) deep -= 1;
  }
  return most;
}
