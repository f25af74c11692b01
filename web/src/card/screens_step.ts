/** A test at a time: where the box goes, what to see, and one answer. */
import { act, APART, choice, fault, field, MAIN, noFaults, SECOND, typed } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { whyChanged } from "./changed_words.ts";
import { drawn, el, type Child } from "./dom.ts";
import type { Answer, Tool } from "./events.ts";
import type { Screen } from "./frame.ts";
import { causesOf, type Cause, type Pack, type Test } from "./pack.ts";
import { planOf } from "./plan.ts";
import { toDoor } from "./routes.ts";
import { causeId, markOf, type Next } from "./steps.ts";
import { countdown } from "./watching.ts";
import { Saying, unbroken } from "./words.ts";

/** The tool of the last test of this visit; the first that fits where none was used. */
export function toolFor(door: Door, test: Test): Tool | null {
  const last = [...door.visit.answers.values()].map((one) => one.said.tool).findLast((one) => one !== undefined);
  return last && test.tools.includes(last) ? last : (test.tools[0] ?? null);
}

export function testScreen(card: Card, door: Door, test: Test, now: Next | null): Screen {
  const { say } = card.words;
  let tool = toolFor(door, test);
  const chosen = (value: string) => (tool = value as Tool);
  const given = door.visit.answers.get(test.id);
  const why = el("p", { class: "card-why" }, unbroken(whyWords(card, door, test, now)));
  return {
    title: test.title,
    kind: "test",
    of: test.id,
    drawing: planFor(card, door.pack, test),
    body: [
      // Before how it is done, which is long and known by heart after a few: so it is
      // seen above the answers on a short phone too.
      why,
      el("p", { class: "card-says" }, unbroken(test.says)),
      given ? el("p", { class: "card-given" }, say("card.answer.said", { answer: answerWords(card, test, given.said.answer) }), ". ", say("card.answer.change"), ".") : null,
      test.seconds ? countdown(card, test.id, test.seconds) : null,
      test.tools.length ? tools(card, test, tool, chosen) : null,
      more(card, door, test),
    ],
    acts: answers(card, door, test, () => tool),
  };
}

/** The good answer large under the thumb; the others apart from it. */
function answers(card: Card, door: Door, test: Test, tool: () => Tool | null): Child {
  const { say } = card.words;
  const give = (answer: Answer, to?: string) => {
    const used = tool();
    const said = { step: test.id, answer, ...(used ? { tool: used } : {}) };
    return card.keep(door, [{ kind: "step", said }], name(answer), to ? { to } : {});
  };
  const name = (answer: Answer) => answerWords(card, test, answer);
  const failed = () => toDoor(door.key, "failed", test.id);
  return [
    act(card, MAIN, name("stayed open"), () => give("stayed open"), { "data-answer": "good" }),
    el(
      "div",
      { class: "card-apart" },
      act(card, APART, name("touched"), () => give("touched", failed()), { "data-answer": "touched" }),
      act(card, APART, name("lamp only"), () => give("lamp only", failed()), { "data-answer": "lamp" }),
      el("a", { class: APART, href: toDoor(door.key, "cannot", test.id), data: { answer: "cannot" } }, say("card.answer.cannot")),
    ),
  ];
}

/** What an answer is called of this test. */
export function answerWords(card: Card, test: Test, answer: Answer): string {
  return test.answers?.[answer] ?? card.words.say(`card.answer.${answerName(answer)}`);
}

export function answerKey(answer: Answer): string {
  return `card.mark.${answerName(answer)}`;
}

function answerName(answer: Answer): string {
  return answer === "stayed open" ? "good" : answer.replace(" ", "_");
}

function planFor(card: Card, pack: Pack, test: Test): Child {
  const { ground, feet } = pack.card;
  if (!ground || !test.place) return null;
  const { say } = card.words;
  const sides: [string, string] = [say("card.step.inside"), say("card.step.outside")];
  return planOf(ground, test.place, say("card.step.plan", { says: test.says }), sides, feet);
}

function whyWords(card: Card, door: Door, test: Test, now: Next | null): string {
  const { say } = card.words;
  const changed = whyChanged(card, door, test.id);
  if (now?.id !== test.id) return [...changed, test.why].join(" ");
  if (now.pick) {
    const words = new Saying(door.pack.words, card.words.language);
    const { because, left, of } = now.pick;
    return `${words.say(`why.${because.replace(" ", "_")}`)}. ${words.count("why.left", left, { left, of })}`;
  }
  const least = test.minimum && !changed.length ? say("card.why.minimum") : "";
  const because = now.why === "again" ? say("card.why.again") : least;
  return [because, ...changed, test.why].filter(Boolean).join(" ");
}

function tools(card: Card, test: Test, tool: Tool | null, chosen: (value: string) => void): HTMLElement {
  const { say } = card.words;
  const summary = el("summary", {}, say("card.tool.with", { tool: say(`card.tool.${tool ?? "body"}`) }));
  const options = test.tools.map((value) => ({ value, words: say(`card.tool.${value}`) }));
  const changed = (value: string) => {
    chosen(value);
    summary.textContent = say("card.tool.with", { tool: say(`card.tool.${value}`) });
    summary.closest("details")?.removeAttribute("open");
  };
  if (options.length < 2) return el("p", { class: "card-quiet" }, summary.textContent);
  return el("details", { class: "card-details" }, summary, choice("tool", say("card.tool.legend"), options, tool ?? "", changed));
}

function more(card: Card, door: Door, test: Test): HTMLElement {
  const { say } = card.words;
  const plan = () => drawn(door.pack.drawings.plan);
  const whole = el("div", { class: "card-whole", tabindex: "0", role: "group", "aria-label": say("card.step.whole") });
  const opened = (event: Event) => {
    const one = whole.childElementCount || !(event.target as HTMLDetailsElement).open ? null : plan();
    if (one) whole.append(one);
  };
  return el(
    "div",
    { class: "card-more" },
    test.place ? el("details", { class: "card-details", ontoggle: opened }, el("summary", {}, say("card.step.whole")), whole) : null,
    el("a", { class: "card-link", href: toDoor(door.key, "photo", test.id) }, say("card.photo.take")),
  );
}

/** Why a test cannot be made: a reason of the usual ones, or in words. */
export function cannotScreen(card: Card, door: Door, id: string, title: string): Screen {
  const { say } = card.words;
  const usual = ["people", "power", "tool", "barrier"].map((one) => say(`card.answer.because_${one}`));
  const root = el("div", { class: "card-form" });
  const entry = field("because", say("card.answer.because"), { long: true });
  const put = (words: string) => {
    const text = entry.querySelector("textarea");
    if (text) text.value = words;
  };
  root.append(el("div", { class: "card-usual" }, usual.map((words) => act(card, SECOND, words, () => put(words)))), entry);
  const keep = () => {
    noFaults(root);
    const because = typed(root, "because");
    if (!because) return fault(root, "because", say("card.answer.because_missing"));
    return card.keep(door, [{ kind: "step", said: { step: id, answer: "cannot", because } }], say("card.answer.cannot"));
  };
  return { title, kind: "cannot", body: root, acts: act(card, MAIN, say("card.answer.keep"), keep) };
}

/** What may have been wrong, the likeliest first, and what to turn. */
export function failedScreen(card: Card, door: Door, test: Test): Screen {
  const { say } = card.words;
  const mark: Answer = markOf(door.visit, test.id) === "lamp only" ? "lamp only" : "touched";
  const answer = door.visit.answers.get(test.id)?.said.answer;
  const every = causesOf(door.pack, test).map((one, number) => ({ one, number }));
  const first = ({ one }: { one: Cause }) => (answer === "touched" || answer === "lamp only") && (one.after?.includes(answer) ?? true);
  const ranked = [...every.filter(first), ...every.filter((each) => !first(each))];
  const causes = ranked.map(({ one, number }) => {
    const id = causeId(test.id, number);
    const done = () => card.keep(door, [{ kind: "work", said: { step: id, done: true, note: `${one.cause}: ${one.turn}` } }], say("card.failed.turned"));
    return el(
      "li",
      {},
      el("h2", {}, one.cause),
      el("p", {}, one.turn),
      door.visit.work.has(id) ? el("p", { class: "card-quiet" }, say("card.failed.turned_already")) : null,
      act(card, SECOND, say("card.failed.turned"), done),
    );
  });
  return {
    title: test.answers ? answerWords(card, test, mark) : say(`card.failed.${mark.replace(" ", "_")}`),
    kind: "failed",
    body: [
      el("p", { class: "card-quiet" }, test.title),
      el("p", {}, say(causes.length ? "card.failed.what" : "card.failed.none")),
      causes.length ? el("ol", { class: "card-causes" }, causes) : null,
    ],
    acts: el(
      "div",
      { class: "card-pair" },
      el("a", { class: SECOND, href: toDoor(door.key, "defect", test.id) }, say("card.failed.defect")),
      el("a", { class: SECOND, href: toDoor(door.key) }, say("card.failed.later")),
    ),
  };
}
