/**
 * The card in a file of its own: packs, script, style and letters inside, no desk behind
 * it. What is tapped is kept by the browser where it keeps anything for files; the page
 * says where it does not. What was done goes back to the desk as a file.
 */
import "./card.css";
import "./onefile.css";
import { keepAwake, lasting } from "./around.ts";
import { el } from "./dom.ts";
import { keptInText, memory } from "./keeping_text.ts";
import { openStore } from "./keeping.ts";
import { openCard } from "./opening.ts";
import type { Pack } from "./pack.ts";
import { keyOf } from "./pack.ts";
import { picking } from "./picking.ts";
import { toDoor } from "./routes.ts";
import type { Store } from "./store.ts";
import { Saying, type Words } from "./words.ts";

interface Given {
  packs: Pack[];
  words: Words;
  /** What only this file says, by key. */
  own: Record<string, string>;
}

type Kept = "lasting" | "passing";

void begin();

async function begin(): Promise<void> {
  const root = document.querySelector<HTMLElement>("#card");
  const given = JSON.parse(document.querySelector("#card-given")?.textContent ?? "null") as Given | null;
  if (!root || !given) return;
  const { store, kept } = await anyStore();
  if (kept === "passing") warn(root, given.own["passing"] ?? "");
  const words = new Saying(given.words, document.documentElement.lang);
  const card = await openCard({
    root,
    here: { trusted: false, ready: false, lasting: kept === "lasting" && (await lasting()), desk: false },
    store,
    sync: null,
    words,
    now: () => performance.now(),
    date: () => new Date(),
    pick: picking,
    take: null,
    sealing: () => null,
    keyShown: () => null,
  });
  for (const pack of given.packs) {
    const before = card.taken.find((one) => one.key === keyOf(pack));
    if (before?.pack.made !== pack.made || before.pack.digest !== pack.digest) await card.take(pack);
  }
  if (given.packs.length === 1 && !location.hash) location.replace(toDoor(keyOf(given.packs[0] as Pack)));
  card.go(location.hash);
  keepAwake(() => card.choices.awake);
  if (kept === "passing") {
    addEventListener("beforeunload", (event) => card.events.length && event.preventDefault());
  }
}

/** The best place that this browser has for what a file keeps. */
async function anyStore(): Promise<{ store: Store; kept: Kept }> {
  try {
    return { store: await openStore(), kept: "lasting" };
  } catch {
    const text = keptInText();
    return text ? { store: text, kept: "lasting" } : { store: memory(), kept: "passing" };
  }
}

function warn(root: HTMLElement, words: string): void {
  root.before(el("p", { class: "onefile-warning", role: "alert" }, words));
}
