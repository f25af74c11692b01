/**
 * Ed25519 (RFC 8032) and SHA-256 (FIPS 180-4) as the browser has them. Older browsers,
 * and pages that did not come over a trusted line, have neither.
 */

const ED25519 = { name: "Ed25519" };
const KEY = /^[0-9a-f]{64}$/;
const SIGNATURE = /^[0-9a-f]{128}$/;
const SIGN_BIT = 0x80;

// Points of order 1, 2, 4 and 8, without the sign of x: a signature of each can be written
// that fits one message in eight or all of them. Some browsers take them, some do not.
const WEAK = new Set([
  "0000000000000000000000000000000000000000000000000000000000000000",
  "0100000000000000000000000000000000000000000000000000000000000000",
  "26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05",
  "c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a",
  "ecffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
  "edffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
  "eeffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
]);

/** What signs: a key that may never leave its place. */
export interface Signs {
  /** Its public half, 64 hexadecimal digits. */
  readonly publicKey: string;
  /** The signature of a message, 128 hexadecimal digits. */
  sign(message: Uint8Array<ArrayBuffer>): Promise<string>;
}

/** Whether this browser can check a seal; asked once. */
export function canCheck(): Promise<boolean> {
  able ??= tried();
  return able;
}

let able: Promise<boolean> | undefined;

// RFC 8032, 7.1, test 1: the signature of nothing. A browser that cannot tell it from
// another one is not asked again.
const TRIED_KEY = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a";
const TRIED_SEAL =
  "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b";

async function tried(): Promise<boolean> {
  try {
    const [yes, no] = await Promise.all([
      signed(TRIED_KEY, TRIED_SEAL, new Uint8Array()),
      signed(TRIED_KEY, TRIED_SEAL, new Uint8Array(1)),
    ]);
    return yes && !no;
  } catch {
    return false;
  }
}

/**
 * Whether a signature of a message is of a key. Both must be written in small digits
 * of their full length: a seal that can be written in two ways would be two seals.
 */
export async function signed(key: string, signature: string, message: Uint8Array<ArrayBuffer>): Promise<boolean> {
  if (!usable(key) || !SIGNATURE.test(signature)) return false;
  let known: CryptoKey;
  try {
    known = await crypto.subtle.importKey("raw", fromHex(key), ED25519, true, ["verify"]);
  } catch (why) {
    if (why instanceof DOMException && why.name === "DataError") return false; // no point of the curve
    throw why;
  }
  return crypto.subtle.verify(ED25519, known, fromHex(signature), message);
}

/** Whether that is a public half which only its own private half can sign for. */
export function usable(key: string): boolean {
  if (!KEY.test(key)) return false;
  const bytes = fromHex(key);
  bytes[31] = (bytes[31] as number) & ~SIGN_BIT;
  return !WEAK.has(toHex(bytes));
}

/** What names a text: the SHA-256 of all its bytes, in hexadecimal. */
export async function digestOf(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  return toHex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));
}

export function toHex(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

function fromHex(digits: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(digits.match(/../g) ?? [], (two) => parseInt(two, 16));
}

/** A pair of keys of the browser as what signs. */
export async function signing(pair: CryptoKeyPair): Promise<Signs> {
  const publicKey = toHex(new Uint8Array(await crypto.subtle.exportKey("raw", pair.publicKey)));
  return {
    publicKey,
    sign: async (message) => toHex(new Uint8Array(await crypto.subtle.sign(ED25519, pair.privateKey, message))),
  };
}

/** A pair that nobody had before; its private half cannot be read, not even by us. */
export async function newPair(): Promise<CryptoKeyPair> {
  return (await crypto.subtle.generateKey(ED25519, false, ["sign", "verify"])) as CryptoKeyPair;
}
