/** What a file that was dropped is: a record, or something that says whom to trust. */
import { isTable, type Table } from "../record/canonical.ts";
import { CERTIFICATE, WITHDRAWAL } from "../record/certifying.ts";
import { isPaper } from "../record/paper.ts";
import { latin } from "../record/sealing.ts";
import { usable } from "../record/signing.ts";

export type Kind = "record" | "firm" | "withdrawal" | "certificate";

const MOST_TEXT = 20_000; // bytes; key files, withdrawals and certificates are short
const START = `{"record":`;
const SEAL = /"seal":"[0-9a-f]{8}/;
const SEAL_ON_PAPER = /%limen-(?:by|seal) /;
const LONGEST_END = 10_000; // bytes at the end of a page within which its seal stands

export interface Firm {
  readonly key: string;
  /** As the file says; anybody can take a name. Empty if it says none. */
  readonly name: string;
}

/** By what stands in it, not by its name. Nothing is checked yet. */
export function kindOf(file: Uint8Array): Kind {
  if (isPaper(file) || file.length > MOST_TEXT) return "record";
  const kind = within(file)?.["kind"];
  if (kind === WITHDRAWAL || kind === CERTIFICATE) return kind;
  return firmIn(file) ? "firm" : "record";
}

/** The firm whose public key a file holds: its name after a #, and its digits. */
export function firmIn(file: Uint8Array): Firm | null {
  if (file.length > MOST_TEXT) return null;
  const text = new TextDecoder().decode(file);
  if (text.includes('"seal"')) return null;
  const lines = text.split(/\r\n|[\n\r]/).map((one) => one.trim());
  const keys = [...new Set(lines.filter(usable))];
  const name = lines.find((one) => one.startsWith("#")) ?? "";
  return keys.length === 1 ? { key: keys[0] as string, name: name.slice(1).trim() } : null;
}

function within(file: Uint8Array): Table | null {
  try {
    const said: unknown = JSON.parse(new TextDecoder().decode(file));
    const record = isTable(said) ? said["record"] : null;
    return isTable(record) ? record : null;
  } catch {
    return null;
  }
}

/** Whether a file bears what looks like a seal, whole or not. */
export function looksSealed(file: Uint8Array): boolean {
  const start = latin(file.subarray(0, START.length));
  const ends = latin(file.subarray(Math.max(0, file.length - LONGEST_END)));
  return isPaper(file) ? SEAL_ON_PAPER.test(ends) : start === START || SEAL.test(ends);
}
