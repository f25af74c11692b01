/** The job card weighs answers as the desk does, on a thousand doorways. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

import { load } from "./loading.js";

const { flags, known, score, suggested, weighed } = await load("card/scoring.ts");

const FILE = fileURLToPath(new URL("../../tests/shared/scores.json", import.meta.url));
const { seed, count, sure, told } = JSON.parse(readFileSync(FILE, "utf-8"));
const TOOLS = ["body", "carton", "leg"];
const CLOSE = 1e-9;

/** The generator of tests/prove/vectors.py. */
function numbers(state) {
  return (limit) => {
    state = (state * 48271) % 2147483647;
    return state % limit;
  };
}

const times = (many, make) => Array.from({ length: many }, make);

function doorway(below) {
  const [n, tests] = [4 + below(29), 2 + below(6)];
  const weights = times(n, () => 1 + below(1000));
  const hole = times(n, () => (below(3) === 0 ? 1 : 0));
  const often = 1 + below(6);
  const reached = times(tests, () => Uint8Array.from(times(n, () => (below(often) !== 0 ? 1 : 0))));
  const minutes = times(tests, () => (1 + below(8)) / 4);
  const room = times(tests, () => (below(200) - 40) / 1000);
  const tool = TOOLS[below(3)];
  const answers = times(below(3), () => ({ test: below(tests), good: below(2) === 1, tool: TOOLS[below(3)] }));
  const all = { ...known({ weights, hole, reached: times(tests, () => null), sure }, minutes), reached, room };
  return { all, answers, tool, tests };
}

const below = numbers(seed);
const doorways = times(count, () => doorway(below));

test("scores agree with the desk's to 1e-9", () => {
  assert.equal(count, 1000);
  doorways.forEach(({ all, answers, tool }, i) => {
    const weights = weighed(all, answers);
    told[i][0].forEach((score_, t) => {
      const found = score(weights, all.hole, all.reached[t], all.minutes[t], all.sure[tool]);
      assert.ok(Math.abs(found - score_) <= CLOSE, `doorway ${i}, test ${t}: ${found}, desk ${score_}`);
    });
  });
});

test("the next test, its reason and the places left are the desk's", () => {
  doorways.forEach(({ all, answers, tool, tests }, i) => {
    const found = suggested(all, answers, times(tests, (_, t) => t), tool);
    assert.deepEqual([found.test, found.why, found.left, found.of], told[i].slice(1, 5), `doorway ${i}`);
  });
});

test("flags come out of Base64 as they went in", () => {
  doorways.forEach(({ all }, i) => {
    assert.deepEqual(flags(told[i][5], all.weights.length), all.reached[0], `doorway ${i}`);
  });
  assert.throws(() => flags("AA==", 9), RangeError);
});

test("an answer of a test without a place changes nothing", () => {
  const all = known({ weights: [3, 1], hole: [0, 1], reached: [null, "AQ=="], sure }, [1, 1]);
  assert.deepEqual(weighed(all, [{ test: 0, good: false, tool: "body" }]), Float64Array.of(0.75, 0.25));
});

test("a body that was missed makes the ways likely in which it is", () => {
  const all = known({ weights: [3, 1], hole: [0, 1], reached: ["AQ=="], sure }, [1]);
  const [whole, holed] = weighed(all, [{ test: 0, good: false, tool: "body" }]);
  const [met, missed] = sure.body;
  assert.ok(Math.abs(whole / holed - (3 * (1 - met)) / (1 - missed)) < CLOSE);
});

test("where nothing is in doubt places come in their order, and where none is left none", () => {
  const all = known({ weights: [1], hole: [0], reached: ["AQ==", "AQ==", "AQ=="], room: [0.03, 0.01, 0.02], sure }, [1, 1, 1]);
  assert.deepEqual(suggested(all, [], [0, 1, 2]), { test: 0, why: "spread", left: 0, of: 0 });
  assert.deepEqual(suggested(all, [], [1, 2]), { test: 1, why: "least room", left: 0, of: 0 });
  assert.equal(suggested(all, [{ test: 0, good: true, tool: "body" }], [0]).test, null);
});

test("where nobody knows the room it is no reason", () => {
  const all = known({ weights: [1, 1], hole: [0, 1], reached: ["AQ==", "AQ=="], room: [null, null], sure }, [1, 1]);
  assert.deepEqual(suggested(all, [], [0, 1]), { test: 0, why: "shows most", left: 2, of: 2 });
});

test("what a test takes counts: of two that tell as much the quicker comes first", () => {
  const all = known({ weights: [1, 1], hole: [0, 1], reached: ["AQ==", "AQ=="], room: [0.01, 0.02], sure }, [2, 1]);
  assert.deepEqual(suggested(all, [], [0, 1]), { test: 1, why: "shows most", left: 2, of: 2 });
});

test("a suggestion takes little beside what it reads: a pack of 48 places in 720 ways", () => {
  const below = numbers(7);
  const [ways, tests] = [720, 48];
  const bits = () => Buffer.from(times(ways / 8, () => below(256) | below(256) | below(256))).toString("base64");
  const guess = {
    weights: times(ways, () => 1 + below(1000)),
    hole: times(ways, () => (below(5) === 0 ? 1 : 0)),
    reached: times(tests, bits),
    room: times(tests, () => below(100) / 1000),
    sure,
  };
  const all = known(guess, times(tests, () => 0.75));
  const may = times(tests, (_, i) => i);
  const answers = may.slice(0, 8).map((one) => ({ test: one, good: true, tool: "body" }));
  const median = (work) => times(9, () => taken(work)).sort((a, b) => a - b)[4];
  const ours = median(() => suggested(all, answers, may));
  const reading = median(() => {
    let sum = 0;
    for (let i = 0; i < ways * tests; i++) sum += Math.log2(1 + i);
    return sum;
  });
  assert.ok(ours < 40 * reading, `${ours} ms, ${reading} ms for as many logarithms as it reads flags`);
});

function taken(work) {
  const start = performance.now();
  work();
  return performance.now() - start;
}
