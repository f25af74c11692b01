/** The desk, asked over the network. */
import { OURS, says, send, type Answer } from "../asking.ts";
import type { Event } from "./events.ts";
import { isPack, type Pack } from "./pack.ts";
import type { DeskLine, Sent } from "./sync.ts";

export type Given = { kind: "pack"; pack: Pack } | { kind: "refused"; why: string } | { kind: "unanswered" } | { kind: "wrong" };

/** Ask for the pack of a doorway; `owed` for the tests that a change owes, and no others. */
export async function packOf(site: string, doorway: string, owed = false): Promise<Given> {
  const went = await send("GET", `${doorOf({ site, doorway })}/card.json${owed ? "?owed=true" : ""}`);
  if (went.kind === "done") return isPack(went.body) ? { kind: "pack", pack: went.body } : { kind: "wrong" };
  return went.kind === "refused" ? { kind: "refused", why: linesOf(went.body) } : { kind: "unanswered" };
}

/** The lines to the desk by which events, photos and seals go. */
export const line: DeskLine = {
  async kept(device) {
    const went = await send("GET", `/visits/devices/${device}`);
    const { kept, id } = went.kind === "done" ? (went.body as { kept?: unknown; id?: unknown }) : {};
    return typeof kept === "number" ? { seq: kept, id: typeof id === "string" ? id : null } : null;
  },

  async events(events) {
    const went = await send("POST", "/visits/events", { json: { events } });
    return went.kind === "done" || went.kind === "refused" ? intake(went, events) : unanswered(went);
  },

  async photo(photo) {
    try {
      const reply = await fetch(`/visits/photos/${photo.sha256}`, {
        method: "PUT",
        headers: { ...OURS, "Content-Type": photo.file.type || "image/jpeg" },
        body: photo.file,
        credentials: "same-origin",
      });
      if (reply.ok) return { kind: "kept", clash: false };
      if (reply.status >= 500) return { kind: "unanswered" };
      return { kind: "refused", upTo: 0, why: linesOf(await reply.json().catch(() => null)) };
    } catch {
      return { kind: "unanswered" };
    }
  },

  async sealed(sealed) {
    const to = `${doorOf(sealed)}/visits/${sealed.visit}/record`;
    const went = await send("PUT", to, { json: { text: sealed.text } });
    if (went.kind === "done") return { kind: "kept", clash: false };
    return went.kind === "refused" ? { kind: "refused", upTo: 0, why: linesOf(went.body) } : unanswered(went);
  },
};

interface Taken {
  clashes?: { seq: number; why: string }[];
  devices?: { device: string; kept: number }[];
  bad?: { lines: string[] } | null;
}

/** What became of a batch: what the desk has now, and where it stopped. */
function intake(went: Answer & { body: unknown }, events: readonly Event[]): Sent {
  const said = (went.body ?? {}) as Taken;
  const kept = said.devices?.find((one) => one.device === events[0]?.device)?.kept ?? 0;
  if (went.kind === "refused") return { kind: "refused", upTo: kept, why: said.bad?.lines.join(" ") ?? linesOf(went.body) };
  return { kind: "kept", clash: (said.clashes?.length ?? 0) > 0 };
}

function unanswered(went: Answer): Sent {
  const why = says(went);
  return why === null ? { kind: "unanswered" } : { kind: "unanswered", why };
}

function doorOf(of: { site: string; doorway: string }): string {
  return `/sites/${encodeURIComponent(of.site)}/doorways/${encodeURIComponent(of.doorway)}`;
}

function linesOf(body: unknown): string {
  const said = (body as { lines?: unknown } | null)?.lines;
  return Array.isArray(said) ? said.join(" ") : "";
}

