/** What was tapped as a file: the way back to the desk where there is no line to it. */
import type { Card } from "./app.ts";
import { el } from "./dom.ts";

/** All that was tapped, as one file: events, and photos as Base64. */
export async function saved(card: Card): Promise<void> {
  const photos = await Promise.all(card.photos.map(async (one) => ({ sha256: one.sha256, file: await base64(one.file) })));
  const text = JSON.stringify({ limen_visit: 1, events: card.events, photos });
  const link = el("a", { href: URL.createObjectURL(new Blob([text], { type: "application/json" })), download: "limen-visit.json" });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

async function base64(file: Blob): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}
