/**
 * A firm says of a device's key that it is the firm's, and later that it no longer is.
 * Both are sealed texts of the firm's own key.
 */
import type { Table } from "./canonical.ts";
import { opened, SealBroken } from "./sealing.ts";

export interface Certificate {
  /** Public half of the device's key, and what the firm calls the device. */
  readonly device: string;
  readonly name: string;
  /** Public half of the firm's key, and the firm's name. */
  readonly firm: string;
  readonly firmName: string;
  /** From which day on, as year-month-day. */
  readonly since: string;
}

export interface Withdrawal {
  readonly device: string;
  readonly firm: string;
  readonly since: string;
  readonly because: string;
}

export const CERTIFICATE = "certificate";
export const WITHDRAWAL = "withdrawal";

export async function certificateOf(sealed: Uint8Array): Promise<Certificate> {
  const { said, firm } = await ofKind(sealed, CERTIFICATE);
  return {
    device: word(said, "device"),
    name: word(said, "name"),
    firm,
    firmName: word(said, "firm_name"),
    since: day(said),
  };
}

export async function withdrawalOf(sealed: Uint8Array): Promise<Withdrawal> {
  const { said, firm } = await ofKind(sealed, WITHDRAWAL);
  return { device: word(said, "device"), firm, since: day(said), because: word(said, "because") };
}

async function ofKind(sealed: Uint8Array, kind: string): Promise<{ said: Table; firm: string }> {
  const { record, key } = await opened(sealed);
  if (record["kind"] !== kind) throw new SealBroken("form");
  return { said: record, firm: key };
}

function word(said: Table, key: string): string {
  const value = said[key];
  if (typeof value !== "string") throw new SealBroken("form");
  return value;
}

/** A day that there is: the thirtieth of February names none. */
function day(said: Table): string {
  const text = word(said, "since");
  const [, year, month, date] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text) ?? [];
  const found = new Date(Date.UTC(Number(year), Number(month) - 1, Number(date)));
  found.setUTCFullYear(Number(year));
  const there = Number(year) > 0 && found.getUTCMonth() === Number(month) - 1 && found.getUTCDate() === Number(date);
  if (!there) throw new SealBroken("form");
  return text;
}
