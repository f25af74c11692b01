/** What changed since the last record: which tests the card asks for first, and why. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { owedByChange, readAgain } = await load("card/change.ts");
const { fold } = await load("card/folding.ts");
const { placeOf } = await load("card/routes.ts");
const steps = await load("card/steps.ts");

const START = { found: "existing", person: "R. Okafor", budget: "yearly", version: 1, digest: "0".repeat(64) };
let last = 0;
const event = (kind, said) => {
  last += 1;
  return { id: `e${last}`, device: "a", seq: last, at: "2026-11-26T10:00:00Z", visit: "v", site: "s", doorway: "main", kind, said };
};
const TESTS = ["left", "right", "plug", "place"].map((id) => ({
  id,
  minimum: id !== "place",
  minutes: 1,
  title: id,
  says: "",
  why: "",
  place: null,
  tools: [],
  if_failed: [],
}));
const LEFT = { fitting: "inside", kind: "row line", row: 1, end: "", left: 0.064, within: 0.005, place: 0, what: "row 1", owes: ["right", "place"] };
const CHANGE = { number: 1, only: false, owed: [{ id: "plug", because: ["The wires were changed."] }], left_out: 3, left: [LEFT] };
const PACK = {
  site: "s",
  doorway: "main",
  tests: TESTS,
  work: [],
  budgets: { yearly: { steps: 8, minutes: 6 }, acceptance: { steps: 15, minutes: 15 }, "after repair": { steps: 4, minutes: 3 } },
  fit: { half: 1, half_within: 0, read_within: { spot: 0.005, line: 0.005, end: 0.01, in: 0.008, out: 0.008 }, units: [], along_line: 0.02 },
  change: CHANGE,
};
const only = { ...PACK, change: { ...CHANGE, only: true } };
const row = (out, more = {}) => event("as_found", { fitting: "inside", reading: { kind: "row line", out, from_left: "1000 mm", row: 1, ...more } });
const begun = (said = {}) => [event("started", { ...START, ...said }), event("precaution", { step: "barrier" })];
const answer = (step) => event("step", { step, answer: "stayed open" });
const first = (_, among) => (among[0] ? { id: among[0].id, because: "least room", left: 1, of: 1 } : null);
/** Every test that is asked, in its order, each answered well. */
function asked(pack, events) {
  const order = [];
  for (;;) {
    const next = steps.next(pack, fold([...events, ...order.map(answer)]), first);
    if (!["test", "place"].includes(next.part)) return order;
    order.push(next.id);
  }
}

test("a row that is found within both readings is as it was left, in whatever units", () => {
  for (const out of ["64 mm", "71 mm", "2 1/2 in", "54.5 mm"]) {
    const [again] = readAgain(PACK, fold([row(out)]));
    assert.equal(again.moved, false, out);
    assert.equal(again.within, 0.01);
  }
  assert.deepEqual([...owedByChange(PACK, fold([row("71 mm")])).keys()], ["plug"]);
});

test("a row that is found further off owes the tests that the desk named, and no others", () => {
  const [again] = readAgain(PACK, fold([row("90 mm")]));
  assert.ok(again.moved && Math.abs(again.by - 0.026) < 1e-9);
  const owed = owedByChange(PACK, fold([row("90 mm")]));
  assert.deepEqual([...owed.keys()], ["plug", "right", "place"]);
  assert.deepEqual(owed.get("plug").because, ["The wires were changed."]);
  assert.equal(owed.get("right").read.length, 1);
});

test("a reading of another row, place, unit or kind, or one struck out, tells nothing of it", () => {
  const others = [
    row("90 mm", { row: 2 }),
    row("90 mm", { from_left: "1300 mm" }),
    row("90 mm", { kind: "spot centre" }),
    row("90 mm", { struck: true }),
    event("as_found", { fitting: "outside", reading: { kind: "row line", out: "90 mm", from_left: "1000 mm", row: 1 } }),
  ];
  assert.deepEqual(readAgain(PACK, fold(others)), []);
});

test("after a repair what changed is tested first, and nothing of the minimum set is left out", () => {
  const order = asked(PACK, [...begun({ budget: "after repair" }), row("64 mm")]);
  assert.deepEqual(order, ["plug", "left", "right", "place"]);
  assert.deepEqual(asked(PACK, [...begun({ found: "called out" }), row("90 mm")]).slice(0, 3), ["right", "plug", "place"]);
});

test("at a yearly visit the order stays, and a place that is owed comes before others", () => {
  assert.deepEqual(asked(PACK, [...begun(), row("90 mm")]), ["left", "right", "plug", "place"]);
});

test("a card of nothing but what is owed asks for that alone; a reading may add to it", () => {
  assert.deepEqual(asked(only, [...begun(), row("64 mm")]), ["plug"]);
  assert.deepEqual(asked(only, [...begun(), row("90 mm")]), ["right", "plug", "place"]);
  const lines = steps.lines(only, fold(begun()), () => "");
  assert.deepEqual(lines.filter((one) => one.asked && ["test", "place"].includes(one.part)).map((one) => one.id), ["plug"]);
  assert.equal(steps.progress(only, fold([...begun(), row("64 mm"), answer("plug")])).of, steps.progress(only, fold([...begun(), row("64 mm")])).of);
});

test("a card without a record asks as ever", () => {
  const { change: _, ...plain } = PACK;
  assert.deepEqual(asked(plain, [...begun({ budget: "after repair" }), row("90 mm")]), ["left", "right", "plug", "place"]);
});

test("the address that takes along nothing but what is owed says so", () => {
  assert.deepEqual(placeOf("#/take/s/main/owed"), { at: "take", site: "s", doorway: "main", owed: true });
  assert.equal(placeOf("#/take/s/main").owed, false);
});
