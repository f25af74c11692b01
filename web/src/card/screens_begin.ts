/** How a visit begins: how the door is found, the precautions, what was read, the work. */
import { act, choice, fault, field, MAIN, noFaults, SECOND, typed, type Option } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { el } from "./dom.ts";
import type { Budget, HowFound } from "./events.ts";
import type { Screen } from "./frame.ts";
import type { Work } from "./pack.ts";
import { toDoor } from "./routes.ts";
import { BARRIER } from "./steps.ts";
import { countdown } from "./watching.ts";

const FOUND: readonly HowFound[] = ["new", "existing", "called out"];
const USUAL: Record<HowFound, Budget> = { new: "acceptance", existing: "yearly", "called out": "after repair" };
const BUDGETS: readonly Budget[] = ["yearly", "acceptance", "after repair"];

export function startScreen(card: Card, door: Door): Screen {
  const { say } = card.words;
  const before = door.visit.started;
  const found: Option[] = FOUND.map((value) => {
    const key = `card.start.${slug(value)}`;
    return { value, words: say(key), says: say(`${key}_says`) };
  });
  const budgets = BUDGETS.map((value) => ({ value, words: say(`card.budget.${slug(value)}`, { ...door.pack.budgets[value] }) }));
  const usual = (value: string) => {
    const radio = root.querySelector<HTMLInputElement>(`[name="budget"][value="${USUAL[value as HowFound]}"]`);
    if (radio) radio.checked = true;
  };
  const root = el(
    "div",
    { class: "card-form" },
    choice("found", say("card.start.legend"), found, before?.found ?? "existing", usual),
    field("person", say("card.start.person"), { value: before?.person ?? card.choices.person, help: say("card.start.person_help") }),
    choice("budget", say("card.start.budget"), budgets, before?.budget ?? "yearly"),
  );
  return {
    title: say("card.start.title"),
    kind: "start",
    body: root,
    acts: act(card, MAIN, say("card.start.go"), () => begin(card, door, root)),
  };
}

async function begin(card: Card, door: Door, root: HTMLElement): Promise<unknown> {
  noFaults(root);
  const person = typed(root, "person");
  if (!person) return fault(root, "person", card.words.say("card.start.person_missing"));
  const { version, digest } = door.pack;
  const said = { found: typed(root, "found") as HowFound, person, budget: typed(root, "budget") as Budget, version, digest };
  if (person !== card.choices.person) await card.choose({ person });
  return card.keep(door, [{ kind: "started", said }], card.words.say("card.part.start"));
}

/** One screen, three short sentences, one button. */
export function barrierScreen(card: Card, door: Door): Screen {
  const { say } = card.words;
  return {
    title: say("card.barrier.title"),
    kind: "barrier",
    body: [el("p", { class: "card-large" }, say("card.barrier.box")), el("p", { class: "card-large" }, say("card.barrier.ladder"))],
    acts: act(card, MAIN, say("card.barrier.go"), () =>
      card.keep(door, [{ kind: "precaution", said: { step: BARRIER } }], say("card.barrier.go")),
    ),
  };
}

export function workScreen(card: Card, door: Door, work: Work): Screen {
  const { say } = card.words;
  const done = () => card.keep(door, [{ kind: "work", said: { step: work.id, done: true } }], work.title);
  return {
    title: work.title,
    kind: "work",
    body: [
      el("p", { class: "card-says" }, work.says),
      work.seconds ? countdown(card, `work.${work.id}`, work.seconds) : null,
      door.visit.work.has(work.id) ? el("p", { class: "card-given" }, say("card.work.already")) : null,
      el("p", { class: "card-why" }, say("card.why.work")),
      targets(door, work),
      work.id === "aim" ? el("a", { class: SECOND, href: toDoor(door.key, "readings") }, say("card.readings.title")) : null,
    ],
    acts: act(card, MAIN, say("card.work.done"), done),
  };
}

/** What is to be turned, in floor millimetres, where the pack says it. */
function targets(door: Door, work: Work): HTMLElement | null {
  const said = door.pack.targets.map((one) => one.says).filter((one): one is string => !!one);
  if (work.id !== "aim" || !said.length) return null;
  return el("ul", { class: "card-targets" }, said.map((one) => el("li", {}, one)));
}

function slug(value: string): string {
  return value.replace(" ", "_");
}
