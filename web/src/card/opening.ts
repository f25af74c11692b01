/** The card put together: store, desk and screens; used by the page and by the one file. */
import { Card, type Around } from "./app.ts";
import { el } from "./dom.ts";
import { Frame, type Screen } from "./frame.ts";
import { placeOf, toDoor } from "./routes.ts";
import { barrierScreen, startScreen, workScreen } from "./screens_begin.ts";
import { handOverScreen, sealScreen, type Sealing } from "./screens_end.ts";
import { apply, homeScreen, settingsScreen, type Here } from "./screens_home.ts";
import { listScreen, moreScreen, screenOf } from "./screens_list.ts";
import { defectScreen, noteScreen, photoScreen } from "./screens_noted.ts";
import { readingScreen } from "./screens_reading.ts";
import { cannotScreen, failedScreen, testScreen } from "./screens_step.ts";
import { traceScreen } from "./screens_trace.ts";
import { AS_FOUND, next, type Next } from "./steps.ts";
import { tickAll } from "./watching.ts";

export interface Parts extends Around {
  root: HTMLElement;
  here: Here;
  /** Takes a doorway along; says what went wrong, or nothing. */
  take: ((card: Card, site: string, doorway: string, owed: boolean) => Promise<string | null>) | null;
  sealing: () => Sealing | null;
  /** What a key of this device shows in the settings. */
  keyShown: (card: Card) => HTMLElement | null;
}

const OFTEN = 250; // ms

export async function openCard(parts: Parts): Promise<Card> {
  const frame: Frame = new Frame(parts.root, (card) => screen(parts, card));
  const card = new Card(parts, frame);
  await card.load();
  apply(card.choices);
  addEventListener("hashchange", () => card.go(location.hash));
  setInterval(() => {
    frame.tick(card);
    tickAll(parts.root);
  }, OFTEN);
  card.go(location.hash);
  return card;
}

function screen(parts: Parts, card: Card): Screen {
  const place = card.place;
  if (place.at === "home") return homeScreen(card, parts.here);
  if (place.at === "settings") return settingsScreen(card, parts.keyShown(card));
  if (place.at === "take") return takeScreen(parts, card, place.site, place.doorway, place.owed);
  return doorScreen(parts, card, place.key, place.screen, place.id);
}

function doorScreen(parts: Parts, card: Card, key: string, name: string, id: string): Screen {
  const door = card.door(key);
  if (!door) return homeScreen(card, parts.here);
  const now = next(door.pack, door.visit, parts.pick(door.pack));
  const [at, of] = name === "next" ? [screenOf(now.part), now.id] : [name, id];
  const test = door.pack.tests.find((one) => one.id === of);
  const title = test?.title ?? card.words.say(`card.part.${AS_FOUND}`);
  const screens: Record<string, () => Screen> = {
    start: () => startScreen(card, door),
    precaution: () => barrierScreen(card, door),
    as_found: () => readingScreen(card, door, true),
    readings: () => readingScreen(card, door, false),
    hand_over: () => handOverScreen(card, door),
    seal: () => sealScreen(card, door, parts.sealing()),
    more: () => moreScreen(card, door),
    note: () => noteScreen(card, door),
    photo: () => photoScreen(card, door, of),
    defect: () => defectScreen(card, door, of),
    cannot: () => cannotScreen(card, door, of, title),
  };
  const work = door.pack.work.find((one) => one.id === of);
  // What is sealed is closed: whatever is opened, the record is shown.
  if (door.visit.sealed && !["list", "seal"].includes(at)) return sealScreen(card, door, parts.sealing());
  if (at === "step" && test) return testScreen(card, door, test, placed(now));
  if (at === "failed" && test) return failedScreen(card, door, test);
  const traced = at === "trace" ? traceScreen(card, door, id) : null;
  if (traced) return traced;
  if (at === "work" && work) return workScreen(card, door, work);
  return (screens[at] ?? (() => listScreen(card, door)))();
}

function placed(now: Next): Next | null {
  return now.part === "test" || now.part === "place" ? now : null;
}

/** Take doorways along, one after the other; one alone is opened at once. */
function takeScreen(parts: Parts, card: Card, site: string, doorways: string, owed: boolean): Screen {
  const { say } = card.words;
  const told = el("p", { role: "status" }, say("card.take.doing"));
  void taken(parts, card, site, doorways.split(","), owed).then((why) => {
    const here = placeOf(location.hash);
    if (here.at !== "take" || here.site !== site || here.doorway !== doorways) return;
    if (why.length) told.replaceChildren(...why.flatMap((one) => [one, el("br")]));
    else location.replace(doorways.includes(",") ? "#/" : toDoor(`${site}/${doorways}`));
  });
  return { title: say("card.take.go"), kind: "take", body: told, acts: el("a", { class: "card-act", href: "#/" }, say("card.home.title")) };
}

async function taken(parts: Parts, card: Card, site: string, doorways: string[], owed: boolean): Promise<string[]> {
  const why: string[] = [];
  for (const doorway of doorways) {
    const said = await parts.take?.(card, site, doorway, owed);
    if (said) why.push(doorways.length > 1 ? `${doorway}: ${said}` : said);
  }
  return why;
}
