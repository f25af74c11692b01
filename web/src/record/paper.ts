/**
 * A printed record with a seal over the whole file: two comments before `startxref`, the
 * certificate, and the key with a hole of 128 digits. Signed is the whole file with zeros
 * in the hole.
 */
import { latin, SealBroken } from "./sealing.ts";
import { signed } from "./signing.ts";

/** What is sealed on a file: by which key, and the certificate beside it. */
export interface Paper {
  readonly key: string;
  readonly certificate: Uint8Array;
}

const BY = bytesOf("%limen-by ");
const SEAL = bytesOf("%limen-seal ");
const END = /startxref\r?\n[0-9]{1,19}\r?\n%%EOF(?:\r?\n|\r)?$/;
const LONGEST_END = 64; // bytes, more than END can take
const DIGITS = /^([0-9a-f]{64})([0-9a-f]{128})\n$/;
const KEY_DIGITS = 64;
const DIGITS_LENGTH = KEY_DIGITS + 128 + 1;
const NEWLINE = 0x0a;
const RETURN = 0x0d;
const ZERO = 0x30;

/** Whether a file says of itself that it is a PDF. */
export function isPaper(file: Uint8Array): boolean {
  return latin(file.subarray(0, 5)) === "%PDF-";
}

/** What is sealed on a PDF, its seal checked. */
export async function openedPaper(file: Uint8Array): Promise<Paper> {
  const end = endOf(file);
  const by = lastOf(file, BY);
  const digits = end - DIGITS_LENGTH;
  const line = digits - SEAL.length; // where the line of the seal begins
  const inOrder = isPaper(file) && by > 0 && by + BY.length < line;
  if (!inOrder || !standsAt(file, SEAL, line) || count(file, SEAL) !== 1) throw new SealBroken("form");
  const certificate = file.subarray(by + BY.length, line - 1);
  const lines = file[by - 1] === NEWLINE && file[line - 1] === NEWLINE && !certificate.some(isBreak);
  const found = DIGITS.exec(latin(file.subarray(digits, end)));
  if (!lines || !found) throw new SealBroken("form");
  const [, key = "", signature = ""] = found;
  const plain = new Uint8Array(file);
  plain.fill(ZERO, digits + KEY_DIGITS, end - 1);
  if (!(await signed(key, signature, plain))) throw new SealBroken("seal");
  return { key, certificate };
}

/** Where the last lines of a PDF begin. */
function endOf(file: Uint8Array): number {
  const from = Math.max(0, file.length - LONGEST_END);
  const found = END.exec(latin(file.subarray(from)));
  if (!found) throw new SealBroken("form");
  return from + found.index;
}

function isBreak(byte: number): boolean {
  return byte === NEWLINE || byte === RETURN;
}

function standsAt(file: Uint8Array, word: Uint8Array, at: number): boolean {
  return at >= 0 && word.every((byte, offset) => file[at + offset] === byte);
}

function lastOf(file: Uint8Array, word: Uint8Array): number {
  let at = file.length;
  while (at >= 0 && !standsAt(file, word, at)) at = at === 0 ? -1 : file.lastIndexOf(word[0] as number, at - 1);
  return at;
}

function count(file: Uint8Array, word: Uint8Array): number {
  const first = word[0] as number;
  let many = 0;
  for (let at = file.indexOf(first); at >= 0; at = file.indexOf(first, at + 1)) {
    if (standsAt(file, word, at)) many += 1;
  }
  return many;
}

function bytesOf(word: string): Uint8Array {
  return new TextEncoder().encode(word);
}
