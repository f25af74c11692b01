/**
 * SHA-256. Where a page's address is not trusted, browsers hide their own; then it is
 * reckoned here, as FIPS 180-4 (2015), section 6.2, says.
 */

export async function sha256(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const own = globalThis.crypto?.subtle;
  return hex(own ? new Uint8Array(await own.digest("SHA-256", bytes)) : reckoned(bytes));
}

/** The digest without the browser's help. */
export function reckoned(bytes: Uint8Array): Uint8Array {
  const blocks = padded(bytes);
  const state = Int32Array.from(roots(8, 2));
  const keys = Int32Array.from(roots(64, 3));
  const words = new Int32Array(64);
  for (let at = 0; at < blocks.byteLength; at += 64) {
    for (let i = 0; i < 16; i++) words[i] = blocks.getInt32(at + 4 * i);
    for (let i = 16; i < 64; i++) {
      words[i] = (small1(word(words, i - 2)) + word(words, i - 7) + small0(word(words, i - 15)) + word(words, i - 16)) | 0;
    }
    mix(state, words, keys);
  }
  const out = new DataView(new ArrayBuffer(32));
  state.forEach((value, i) => out.setInt32(4 * i, value));
  return new Uint8Array(out.buffer);
}

function mix(state: Int32Array, words: Int32Array, keys: Int32Array): void {
  let [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = state;
  for (let i = 0; i < 64; i++) {
    const first = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + word(keys, i) + word(words, i)) | 0;
    const second = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + first) | 0, c, b, a, (first + second) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((value, i) => (state[i] = (word(state, i) + value) | 0));
}

function padded(bytes: Uint8Array): DataView {
  const length = Math.ceil((bytes.length + 9) / 64) * 64;
  const all = new Uint8Array(length);
  all.set(bytes);
  all[bytes.length] = 0x80;
  const view = new DataView(all.buffer);
  view.setUint32(length - 8, Math.floor((bytes.length * 8) / 2 ** 32));
  view.setUint32(length - 4, (bytes.length * 8) >>> 0);
  return view;
}

/** The first 32 bits of the fractions of the roots of the first primes. */
function roots(many: number, degree: 2 | 3): number[] {
  const primes: number[] = [];
  for (let n = 2; primes.length < many; n++) if (primes.every((prime) => n % prime)) primes.push(n);
  return primes.map((prime) => {
    const root = degree === 2 ? Math.sqrt(prime) : Math.cbrt(prime);
    return Math.floor((root - Math.floor(root)) * 2 ** 32) | 0;
  });
}

const word = (words: Int32Array, at: number): number => words[at] ?? 0;
const turn = (x: number, by: number): number => (x >>> by) | (x << (32 - by));
const small0 = (x: number): number => turn(x, 7) ^ turn(x, 18) ^ (x >>> 3);
const small1 = (x: number): number => turn(x, 17) ^ turn(x, 19) ^ (x >>> 10);

function hex(bytes: Uint8Array): string {
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
