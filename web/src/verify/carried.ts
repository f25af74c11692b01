/**
 * The sealed record that a sealed PDF carries: the code on its pages bears the digest of
 * that, as no page can bear the digest of itself. The PDF's own seal was checked before.
 */
import type { Table } from "../record/canonical.ts";
import { opened } from "../record/sealing.ts";
import { digestOf } from "../record/signing.ts";

export interface Carried {
  readonly digest: string;
  readonly record: Table;
}

const HEAD = /\/Type\s*\/EmbeddedFile\b/;
const STREAM = /stream\r?\n/g;
const MOST_HEAD = 1000; // letters between the beginning of an object and its stream
const LARGEST = 50_000_000; // bytes of what is unpacked

/** The first file within that is a sealed record; null if there is none. */
export async function carriedIn(file: Uint8Array<ArrayBuffer>): Promise<Carried | null> {
  const text = new TextDecoder("latin1").decode(file);
  for (const found of text.matchAll(STREAM)) {
    const before = text.slice(Math.max(0, found.index - MOST_HEAD), found.index);
    const head = before.slice(before.lastIndexOf(" obj") + 1);
    if (!HEAD.test(head)) continue;
    const from = found.index + found[0].length;
    const carried = await sealedIn(file.subarray(from, text.indexOf("endstream", from)), head);
    if (carried) return carried;
  }
  return null;
}

async function sealedIn(packed: Uint8Array<ArrayBuffer>, head: string): Promise<Carried | null> {
  try {
    // A length that stands elsewhere ends before the line that ends the stream.
    const length = Number(/\/Length\s+(\d+)\b(?!\s+\d+\s+R)/.exec(head)?.[1] ?? packed.length - 1);
    const whole = packed.subarray(0, length);
    const bytes = head.includes("/FlateDecode") ? await unpacked(whole) : new Uint8Array(whole);
    const { record } = await opened(bytes);
    // A certificate that travels along is sealed too, and bears none of its own.
    return typeof record["by"] === "string" ? { digest: await digestOf(bytes), record } : null;
  } catch {
    return null; // another file: a photo, a drawing
  }
}

async function unpacked(packed: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>> {
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate"));
  const pieces: Uint8Array[] = [];
  let size = 0;
  for (const reader = stream.getReader(); ; ) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > LARGEST) throw new RangeError("too large");
    pieces.push(value);
  }
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}
