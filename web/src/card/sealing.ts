/** The record of a visit, sealed at the door with this device's own key. */
import type { Table } from "../record/canonical.ts";
import { sealRecord } from "../record/sealing.ts";
import type { Signs } from "../record/signing.ts";
import { sha256 } from "./digest.ts";
import { moment, type Event } from "./events.ts";
import type { Pack } from "./pack.ts";
import { visitTable } from "./recording.ts";

export interface SealedVisit {
  text: string;
  digest: string;
  key: string;
}

/** What a record says: the doorway's part that came along, what was done, what came before. */
export function recordOf(pack: Pick<Pack, "record" | "parents">, events: readonly Event[], when: Date): Table {
  return { ...(pack.record as Table), claimed: moment(when), parents: [...pack.parents].sort(), visit: visitTable(events) };
}

export async function sealedVisit(
  pack: Pick<Pack, "record" | "parents">,
  events: readonly Event[],
  when: Date,
  key: Signs,
  certificate: string,
): Promise<SealedVisit> {
  const bytes = await sealRecord(recordOf(pack, events, when), key, certificate);
  return { text: new TextDecoder().decode(bytes), digest: await sha256(bytes), key: key.publicKey };
}
