/** Whether a file is what was sealed, and who sealed it: what the desk finds, in the page. */
import type { Table } from "./canonical.ts";
import { type Certificate, CERTIFICATE, certificateOf, type Withdrawal, WITHDRAWAL, withdrawalOf } from "./certifying.ts";
import { isPaper, openedPaper } from "./paper.ts";
import { opened, SealBroken, type Where } from "./sealing.ts";
import { canCheck, digestOf } from "./signing.ts";

export const LARGEST = 200_000_000; // bytes of a file that is checked

export interface Signer {
  readonly device: string;
  readonly firm: string;
  readonly key: string;
  readonly firmKey: string;
  /** Whether the firm's key is among those that are known here. */
  readonly known: boolean;
  /** From which day on the firm no longer answers for the device. */
  readonly withdrawn: string | null;
}

export interface Verified {
  readonly unchanged: boolean;
  readonly where: Where;
  readonly signer: Signer | null;
  /** What a sealed text says; null of a PDF, and where something failed. */
  readonly record: Table | null;
  /** SHA-256 of the whole file. */
  readonly digest: string;
}

export interface Trust {
  /** Public halves of the firms' keys that are known here. */
  readonly firms?: readonly string[];
  /** Withdrawals of devices; one that is broken withdraws nothing. */
  readonly withdrawn?: readonly Uint8Array[];
}

/** This browser has not what a check needs: it says nothing of the file. */
export class CannotCheck extends Error {}

/** Whether a firm that is known here answers for the device. */
export function trusted(signer: Signer): boolean {
  return signer.known && signer.withdrawn === null;
}

/**
 * Whether a sealed text or a sealed PDF is what was sealed; `CannotCheck` says nothing of
 * the file. A device that its firm withdrew is not trusted for any day, for when a file
 * was sealed is the signer's claim.
 */
export async function verifyBytes(file: Uint8Array<ArrayBuffer>, trust: Trust = {}): Promise<Verified> {
  if (!(await canCheck())) throw new CannotCheck();
  try {
    return await verified(file, trust.firms ?? [], await readable(trust.withdrawn ?? []));
  } catch (why) {
    // What goes wrong otherwise is the browser's: a file is not called changed for it.
    if (!(why instanceof SealBroken)) throw new CannotCheck(String(why));
    return { unchanged: false, where: why.where, signer: null, record: null, digest: await digestOf(file) };
  }
}

async function verified(
  file: Uint8Array<ArrayBuffer>,
  firms: readonly string[],
  withdrawn: readonly Withdrawal[],
): Promise<Verified> {
  if (file.length > LARGEST) throw new SealBroken("size");
  const { key, sealed, record } = await sealedIn(file);
  const signer = signerOf(await certified(sealed, key), firms, withdrawn);
  return { unchanged: true, where: "", signer, record, digest: await digestOf(file) };
}

async function sealedIn(file: Uint8Array): Promise<{ key: string; sealed: Uint8Array; record: Table | null }> {
  if (isPaper(file)) {
    const { key, certificate } = await openedPaper(file);
    return { key, sealed: certificate, record: null };
  }
  const { key, record } = await opened(file);
  return { key, sealed: beside(record), record };
}

/** The certificate that a record carries. */
function beside(record: Table): Uint8Array {
  if (record["kind"] === CERTIFICATE || record["kind"] === WITHDRAWAL) throw new SealBroken("form");
  const by = record["by"];
  if (typeof by !== "string") throw new SealBroken("certificate");
  return new TextEncoder().encode(by);
}

/** The certificate of the very key that sealed the file. */
async function certified(sealed: Uint8Array, key: string): Promise<Certificate> {
  let found: Certificate;
  try {
    found = await certificateOf(sealed);
  } catch (why) {
    throw why instanceof SealBroken ? new SealBroken("certificate") : why;
  }
  if (found.device !== key) throw new SealBroken("certificate");
  return found;
}

function signerOf(one: Certificate, firms: readonly string[], withdrawn: readonly Withdrawal[]): Signer {
  const days = withdrawn.filter((w) => w.device === one.device && w.firm === one.firm).map((w) => w.since);
  return {
    device: one.name,
    firm: one.firmName,
    key: one.device,
    firmKey: one.firm,
    known: firms.includes(one.firm),
    withdrawn: days.sort()[0] ?? null,
  };
}

async function readable(sealed: readonly Uint8Array[]): Promise<Withdrawal[]> {
  const found = await Promise.all(
    sealed.map((one) =>
      withdrawalOf(one).catch((why: unknown) => {
        if (why instanceof SealBroken) return null;
        throw why;
      }),
    ),
  );
  return found.filter((one) => one !== null);
}
