/** Why it misbehaves: one question at a time, what it may be, what to do, tests owed. */
import { act, MAIN, SECOND } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { el, type Child } from "./dom.ts";
import type { Draft } from "./events.ts";
import type { Screen } from "./frame.ts";
import type { Question, Suspect, Told, Trace } from "./pack.ts";
import { toDoor } from "./routes.ts";
import { answered, standing, TRACE, workOn } from "./suspecting.ts";
import { CAUSE, leading, minutesOf, NONE, STRUCK, SYMPTOM, trace, type Answers, type Following, type Traced } from "./tracing.ts";

/** Likelihoods from which a cause is called so; below the last it is not named. */
const LIKELY: readonly (readonly [number, string])[] = [[0.5, "most"], [0.2, "quite"], [0.05, "maybe"]];
const MUTE = ["unknown", "neither"];

export function traceScreen(card: Card, door: Door, wanted: string): Screen | null {
  const all = door.pack.trace;
  if (!all) return null;
  const answers = answered(door.visit);
  const found = trace(all, answers);
  const chosen = all.questions.find((one) => one.id === wanted);
  const now = standing(door.visit);
  if (chosen) return askScreen(card, door, all, { found, answers, asking: chosen, following: null });
  if (all.told && door.visit.traced.size === 0) return toldScreen(card, door, all, all.told);
  if (now === "struck") return struckScreen(card, door, all);
  const cause = all.causes.find((one) => one.id === door.visit.traced.get(CAUSE)?.said.answer);
  if (cause && now !== "none") return takenScreen(card, door, cause, now === "done");
  if (now === "none") return overScreen(card, door, all, found, answers, "card.trace.none_said");
  const asking = all.questions.find((one) => one.id === found.next?.question);
  if (asking) return askScreen(card, door, all, { found, answers, asking, following: found.next });
  const suspect = all.causes.find((one) => one.id === found.found);
  if (suspect) return foundScreen(card, door, all, suspect, found, answers);
  return overScreen(card, door, all, found, answers, "card.trace.over_what");
}

/** The desk was told before: go on with that, or ask anew. */
function toldScreen(card: Card, door: Door, all: Trace, told: Told): Screen {
  const { say } = card.words;
  const answers = new Map(Object.entries(told.answers));
  const asked = all.questions.filter((one) => answers.has(one.id));
  const struck = answers.get(SYMPTOM) === STRUCK;
  const cause = all.causes.find((one) => one.id === told.cause)?.id;
  const title = say("card.trace.told.title");
  const taken: Draft[] = [...answers, ...(cause && cause !== NONE ? [[CAUSE, cause] as const] : [])].map(([question, answer]) => ({ kind: "traced", said: { question, answer, call: told.call } }));
  return {
    title,
    kind: "trace",
    of: "told",
    body: [
      el("p", { class: "card-quiet" }, told.says),
      struck ? el("p", { class: "card-warns" }, all.struck_do) : null,
      el("dl", { class: "card-bands" }, asked.map((one) => [el("dt", {}, one.asks), el("dd", {}, capital(wordsOf(card, all, one, answers)))])),
      cause ? el("p", { class: "card-large" }, say("card.trace.told.cause", { cause: named(all, cause) })) : null,
    ],
    acts: [
      act(card, MAIN, say("card.trace.told.take"), () => card.keep(door, taken, title, { to: toDoor(door.key, TRACE) })),
      el("a", { class: SECOND, href: toDoor(door.key, TRACE, SYMPTOM) }, say("card.trace.told.anew")),
    ],
  };
}

interface Asked {
  found: Traced;
  answers: Answers;
  asking: Question;
  following: Following | null;
}

function askScreen(card: Card, door: Door, all: Trace, { found, answers, asking, following }: Asked): Screen {
  const { say } = card.words;
  const given = answers.get(asking.id);
  const choices = Object.keys(asking.usual).map((value) => [value, asking.words[value] ?? value] as const);
  const struck = asking.id === SYMPTOM ? [[STRUCK, all.struck] as const] : [];
  const mute = asking.id === SYMPTOM ? [] : MUTE.map((value) => [value, say(`card.trace.${value}`)] as const);
  const button = ([value, words]: readonly [string, string]) =>
    act(card, "card-act card-answer", capital(words), () => give(card, door, asking.id, value, words), {
      "data-answer": value,
      ...(given === value ? { "aria-current": "true" } : {}),
    });
  return {
    title: asking.asks,
    kind: "trace",
    of: asking.id,
    body: [
      el("p", { class: "card-why" }, why(card, all, asking, answers, following)),
      asking.warns.map((one) => el("p", { class: "card-warns" }, one)),
      el("div", { class: "card-answers" }, [...struck, ...choices].map(button)),
      mute.length ? el("div", { class: "card-answers card-mute" }, mute.map(button)) : null,
      two(card, door, all, found),
      known(card, door, all, found, answers),
    ],
  };
}

/** Why this question, and what it takes. */
function why(card: Card, all: Trace, asking: Question, answers: Answers, following: Following | null): string {
  const { say } = card.words;
  const minutes = following?.minutes ?? minutesOf(all, asking, answers);
  const takes =
    minutes < 1
      ? say("card.trace.takes_seconds", { seconds: Math.round(minutes * 60) })
      : say("card.trace.takes", { minutes: Math.round(minutes) });
  if (!following) return takes;
  if (following.first) return `${takes} ${say("card.trace.first")}`;
  const [one, other] = following.parts.map((id) => named(all, id));
  return `${takes} ${say("card.trace.why", { one: one ?? "", other: other ?? "" })}`;
}

/** Two causes are left: going on is one way, acting another. */
function two(card: Card, door: Door, all: Trace, found: Traced): Child {
  const left = leading(all, found);
  const [one, other] = left;
  if (left.length !== 2 || found.found || left.includes(NONE) || !one || !other) return null;
  const { say } = card.words;
  return el(
    "section",
    { class: "card-two" },
    el("p", {}, say("card.trace.two", { one: named(all, one), other: named(all, other) })),
    act(card, SECOND, say("card.trace.act", { cause: named(all, one) }), () => give(card, door, CAUSE, one, named(all, one))),
  );
}

/** What it may be in words, what was answered, what else can be asked. */
function known(card: Card, door: Door, all: Trace, found: Traced, answers: Answers): Child {
  const { say } = card.words;
  const bands = LIKELY.map(([least, key], at) => {
    const most = LIKELY[at - 1]?.[0] ?? Infinity;
    const here = found.ranked.filter((one) => one.p >= least && one.p < most);
    return here.length ? [el("dt", {}, capital(say(`card.trace.likely.${key}`))), here.map((one) => el("dd", {}, named(all, one.cause)))] : null;
  });
  const link = (one: Question, words: Child) => el("li", {}, el("a", { href: toDoor(door.key, TRACE, one.id) }, words));
  const told = all.questions.filter((one) => answers.has(one.id));
  const open = all.questions.filter((one) => !answers.has(one.id));
  return el(
    "div",
    { class: "card-known" },
    el("details", { class: "card-details" }, el("summary", {}, say("card.trace.may")), el("dl", { class: "card-bands" }, bands)),
    told.length
      ? el("details", { class: "card-details" }, el("summary", {}, say("card.trace.asked")), el("ul", { class: "card-links" }, told.map((one) => link(one, [`${one.asks} `, el("strong", {}, wordsOf(card, all, one, answers))]))))
      : null,
    el("details", { class: "card-details" }, el("summary", {}, say("card.trace.others")), el("ul", { class: "card-links" }, open.map((one) => link(one, one.asks)))),
    el("div", { class: "card-pair" }, [
      act(card, SECOND, say("card.trace.none"), () => give(card, door, CAUSE, NONE, say("card.trace.none"))),
      act(card, SECOND, say("card.trace.later"), () => give(card, door, CAUSE, "unknown", say("card.trace.later"), toDoor(door.key))),
    ]),
    el("p", { class: "card-quiet" }, say("card.trace.caution")),
  );
}

function foundScreen(card: Card, door: Door, all: Trace, cause: Suspect, found: Traced, answers: Answers): Screen {
  const { say } = card.words;
  return {
    title: say("card.trace.found", { cause: cause.named }),
    kind: "trace",
    of: "found",
    body: [...toDo(card, cause), known(card, door, all, found, answers)],
    acts: act(card, MAIN, say("card.trace.take"), () => give(card, door, CAUSE, cause.id, cause.named)),
  };
}

function takenScreen(card: Card, door: Door, cause: Suspect, done: boolean): Screen {
  const { say } = card.words;
  const said: Draft = { kind: "work", said: { step: workOn(cause.id), done: true, note: `${cause.named}: ${cause.do}` } };
  return {
    title: done ? say("card.trace.done", { cause: cause.named }) : cause.named,
    kind: "trace",
    of: "taken",
    body: toDo(card, cause),
    acts: [
      done
        ? el("a", { class: MAIN, href: toDoor(door.key) }, say("card.trace.on"))
        : act(card, MAIN, say("card.trace.do_it"), () => card.keep(door, [said], cause.named)),
      act(card, SECOND, say("card.trace.not_that"), () => give(card, door, CAUSE, "neither", say("card.trace.not_that"))),
    ],
  };
}

function toDo(card: Card, cause: Suspect): Child[] {
  const { say } = card.words;
  return [
    el("h2", {}, say("card.trace.do")),
    el("p", { class: "card-says" }, cause.do),
    el("h2", {}, say("card.trace.owed")),
    el("p", {}, `${capital(cause.owed)}.`),
  ];
}

function overScreen(card: Card, door: Door, all: Trace, found: Traced, answers: Answers, says: string): Screen {
  const { say } = card.words;
  return {
    title: say("card.trace.over"),
    kind: "trace",
    of: "over",
    body: [el("p", { class: "card-says" }, say(says)), known(card, door, all, found, answers)],
    acts: el("a", { class: MAIN, href: toDoor(door.key) }, say("card.trace.on")),
  };
}

/** Somebody was struck: no cause is looked for. */
function struckScreen(card: Card, door: Door, all: Trace): Screen {
  const { say } = card.words;
  return {
    title: say("card.trace.stop"),
    kind: "trace",
    of: "struck",
    body: [
      el("p", { class: "card-large" }, all.struck_do),
      el("a", { class: "card-link", href: toDoor(door.key, TRACE, SYMPTOM) }, say("card.trace.struck_wrong")),
    ],
    acts: [
      el("a", { class: MAIN, href: toDoor(door.key, "photo") }, say("card.photo.title")),
      el("a", { class: SECOND, href: toDoor(door.key, "as_found") }, say("card.trace.stop_readings")),
      el("a", { class: SECOND, href: toDoor(door.key, "hand_over") }, say("card.part.hand_over")),
    ],
  };
}

function give(card: Card, door: Door, question: string, answer: string, words: string, to = toDoor(door.key, TRACE)): Promise<boolean> {
  return card.keep(door, [{ kind: "traced", said: { question, answer } }], words, { to });
}

function named(all: Trace, cause: string): string {
  return all.causes.find((one) => one.id === cause)?.named ?? cause;
}

function wordsOf(card: Card, all: Trace, one: Question, answers: Answers): string {
  const given = answers.get(one.id) ?? "";
  if (MUTE.includes(given)) return card.words.say(`card.trace.${given}`);
  return given === STRUCK ? all.struck : (one.words[given] ?? given);
}

function capital(words: string): string {
  return words.slice(0, 1).toLocaleUpperCase() + words.slice(1);
}
