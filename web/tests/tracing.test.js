/** The job card looks for a cause as the desk does, on a thousand call-outs. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

import { load } from "./loading.js";

const { leading, minutesOf, trace } = await load("card/tracing.ts");

const FILE = fileURLToPath(new URL("../../tests/shared/traces.json", import.meta.url));
const { seed, count, doors, told } = JSON.parse(readFileSync(FILE, "utf-8"));
const CLOSE = 1e-9;
const MOST_ANSWERS = 12;

/** The generator of tests/prove/vectors.py. */
function numbers(state) {
  return (limit) => {
    state = (state * 48271) % 2147483647;
    return state % limit;
  };
}

/** The next answers of tests/keep/vectors.py. */
function answers(below, { questions }) {
  const given = new Map();
  const many = below(MOST_ANSWERS);
  for (let i = 0; i < many; i++) {
    const one = questions[below(questions.length)];
    const may = [...Object.keys(one.usual), "unknown", "neither"];
    given.set(one.id, may[below(may.length)]);
  }
  if (below(50) === 0) given.set("does", "struck");
  return given;
}

const below = numbers(seed);
const calls = told.map((_, place) => {
  const tables = doors[place % doors.length];
  return { tables, given: answers(below, tables) };
});

const close = (one, other, what) => assert.ok(Math.abs(one - other) <= CLOSE, `${what}: ${one}, desk ${other}`);

test("causes are as likely as at the desk, to 1e-9", () => {
  assert.equal(count, 1000);
  assert.equal(told.length, count);
  calls.forEach(({ tables, given }, i) => {
    const [first, every] = told[i];
    const { ranked } = trace(tables, given);
    first.forEach(([cause, p], at) => {
      assert.equal(ranked[at].cause, tables.causes[cause].id, `call-out ${i}`);
      close(ranked[at].p, p, `call-out ${i}`);
    });
    close(ranked.reduce((sum, one) => sum + one.p ** 2, 0), every, `call-out ${i}`);
  });
});

test("the next question, its reason and what is left are the desk's", () => {
  calls.forEach(({ tables, given }, i) => {
    const [, , then, left, found] = told[i];
    const end = trace(tables, given);
    const [question, minutes, one, other, first] = then ?? [];
    const wanted = then && {
      question: tables.questions[question].id,
      minutes,
      parts: [tables.causes[one].id, tables.causes[other].id],
      first,
    };
    assert.deepEqual(end.next, wanted, `call-out ${i}`);
    assert.deepEqual(leading(tables, end), left.map((at) => tables.causes[at].id), `call-out ${i}`);
    assert.equal(end.found, found === null ? null : tables.causes[found].id, `call-out ${i}`);
  });
});

test("some were struck, some found, and of some nothing was worth asking", () => {
  const ends = calls.map(({ tables, given }) => trace(tables, given));
  assert.ok(ends.some((one) => one.struck && !one.next && !one.ranked.length));
  assert.ok(ends.some((one) => one.found));
});

test("a ladder is paid once", () => {
  const [tables] = doors;
  const [settings, cable] = ["settings", "cable"].map((id) => tables.questions.find((one) => one.id === id));
  const before = minutesOf(tables, cable, new Map());
  assert.equal(before - minutesOf(tables, cable, new Map([[settings.id, "unknown"]])), tables.ladder);
});

const steps = await load("card/steps.ts");
const { fold } = await load("card/folding.ts");
const { standing } = await load("card/suspecting.ts");

const TEST = { minimum: true, minutes: 1, title: "", says: "", why: "", place: null, tools: [], if_failed: [] };
const PACK = {
  site: "s",
  doorway: "main",
  tests: [{ ...TEST, id: "box.left" }, { ...TEST, id: "walk.outside" }],
  work: [],
  budgets: { "after repair": { steps: 4, minutes: 3 } },
  trace: { ...doors[0], causes: doors[0].causes.map((one) => ({ ...one, named: one.id, do: "", owed: "", again: one.id === "own_leaf" ? ["box.left"] : [] })) },
};
let seq = 0;
const event = (kind, said) => {
  seq += 1;
  return { id: `e${seq}`, device: "a", seq, at: "2026-11-26T10:00:00Z", visit: "v", site: "s", doorway: "main", kind, said };
};
const traced = (question, answer) => event("traced", { question, answer });
const come = (found) => [
  event("started", { found, person: "R. Okafor", budget: "after repair", version: 1, digest: "0".repeat(64) }),
  event("precaution", { step: "barrier" }),
  event("step", { step: "as_found", answer: "cannot", because: "no tape" }),
];
const nextOf = (events, pack = PACK) => steps.next(pack, fold(events), () => null);
const markOf = (events) => steps.lines(PACK, fold(events), () => "").find((one) => one.part === "trace");

test("who was called out looks for the cause first; who came for the year does not", () => {
  assert.equal(nextOf(come("called out")).part, "trace");
  assert.equal(nextOf(come("existing")).part, "test");
  assert.equal(nextOf(come("called out"), { ...PACK, trace: undefined }).part, "test");
  assert.equal(markOf(come("existing")).asked, false);
});

test("a cause that was taken waits for its work; then its tests are owed again", () => {
  const events = [...come("called out"), event("step", { step: "box.left", answer: "touched" }), event("step", { step: "walk.outside", answer: "stayed open" }), traced("cause", "own_leaf")];
  assert.equal(standing(fold(events)), "taken");
  assert.equal(nextOf(events).part, "trace");
  events.push(event("work", { step: "trace.own_leaf", done: true }));
  assert.equal(markOf(events).mark, "done");
  assert.deepEqual([...steps.owedAgain(PACK, fold(events))], ["box.left"]);
  assert.deepEqual([nextOf(events).id, nextOf(events).why], ["box.left", "again"]);
});

test("an answer is taken back, changed, left for later", () => {
  const slip = traced("does", "struck");
  const events = [...come("called out"), slip];
  assert.equal(standing(fold(events)), "struck");
  assert.equal(nextOf(events).part, "hand_over");
  events.push(event("undone", { event: slip.id }), traced("mode", "open"), traced("mode", "automatic"));
  const visit = fold(events);
  assert.equal(standing(visit), "ask");
  assert.equal(visit.traced.get("mode").said.answer, "automatic");
  assert.equal(standing(fold([...events, traced("cause", "unknown")])), "left");
  assert.equal(standing(fold([...events, traced("cause", "own_leaf"), traced("cause", "neither")])), "ask");
  assert.equal(nextOf([...events, traced("cause", "none_of_these")]).part, "test");
});
