/** The entry of the card page. */
import "./card.css";
import { openCard, type Parts } from "./opening.ts";
import type { Card } from "./app.ts";
import { el } from "./dom.ts";
import { line, packOf } from "./desk.ts";
import { Device } from "./device.ts";
import { openStore } from "./keeping.ts";
import type { Here } from "./screens_home.ts";
import type { Store } from "./store.ts";
import { Sync } from "./sync.ts";
import { keepAwake, lasting, offline } from "./around.ts";
import { picking } from "./picking.ts";
import { Saying, type Words } from "./words.ts";

void begin();

async function begin(): Promise<void> {
  const root = document.querySelector<HTMLElement>("#card");
  const said = document.querySelector("#card-words")?.textContent;
  if (!root || !said) return;
  const words = new Saying(JSON.parse(said) as Words, document.documentElement.lang);
  let store: Store;
  try {
    store = await openStore();
  } catch {
    refused(root, words);
    return;
  }
  const here: Here = { trusted: isSecureContext && "serviceWorker" in navigator, ready: false, lasting: false, desk: true };
  const sync = new Sync(store, line, () => card?.tell());
  let card: Card | null = null;
  const device = new Device();
  const parts: Parts = {
    root,
    here,
    store,
    sync,
    words,
    now: () => performance.now(),
    date: () => new Date(),
    pick: picking,
    take: (at, site, doorway, owed) => take(at, words, site, doorway, owed),
    sealing: () => device.sealing(() => card),
    keyShown: (at) => device.shown(at),
  };
  card = await openCard(parts);
  keepAwake(() => card?.choices.awake ?? false);
  heedOtherTabs(card);
  addEventListener("online", () => void sync.run());
  document.addEventListener("visibilitychange", () => document.hidden || void sync.run());
  void sync.run();
  // What is not needed to begin comes after the first screen.
  const [, lasts, ready] = await Promise.all([device.load(), lasting(), here.trusted ? offline() : false]);
  Object.assign(here, { lasting: lasts, ready });
  if (["home", "settings", "seal"].includes(root.dataset["screen"] ?? "")) card.show();
}

/** What another tab kept is read here too; each number is given out once by the store. */
function heedOtherTabs(card: Card): void {
  if (!("BroadcastChannel" in window)) return;
  const channel = new BroadcastChannel("limen-card");
  channel.addEventListener("message", () => void card.load().then(() => card.tell()));
  card.onKept = () => channel.postMessage("kept");
}

async function take(card: Card, words: Saying, site: string, doorway: string, owed: boolean): Promise<string | null> {
  const given = await packOf(site, doorway, owed);
  if (given.kind === "pack") {
    await card.take(given.pack);
    return card.trouble;
  }
  return words.say(`card.take.${given.kind}`, given.kind === "refused" ? { why: given.why } : {});
}

function refused(root: HTMLElement, words: Saying): void {
  root.replaceChildren(
    el("main", { class: "card-main", id: "main" }, el("h1", {}, words.say("card.title")), el("p", { class: "card-trouble", role: "alert" }, words.say("card.storage.refused"))),
    el("div", { class: "card-acts" }, el("a", { class: "card-act", href: "/" }, words.say("card.home.desk"))),
  );
}
