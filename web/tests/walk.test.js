/** A walk between the server's numbers: straight, and never beyond them. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { crosses, now } = await load("walk/course.ts");

const LEAVES = [
  { box: [-2, -1, -0.02, 0.02], high: 2.2, hand: -1, share: 1 },
  { box: [1, 2, -0.02, 0.02], high: 2.2, hand: 1, share: 1 },
];
const COURSE = {
  ends: 3,
  arrives: 2,
  entered: 0.5,
  told: 0.7,
  enough: 3,
  start: [1, 3],
  stop: [0, 1],
  body: [0.6, 0.5],
  late: [],
  fields: [],
  times: [0, 1, 2, 3],
  left: [0, 0, -0.4, -1],
  right: [0, 0, 0.4, 1],
  words: ["nothing", "nothing", "800 mm", "2000 mm"],
  half: 1,
  leaves: LEAVES,
};

test("the walker goes straight and stays where the way ends", () => {
  assert.deepEqual(now(COURSE, 0).place, [1, 3]);
  assert.deepEqual(now(COURSE, 1).place, [0.5, 2]);
  assert.deepEqual(now(COURSE, 2).place, [0, 1]);
  assert.deepEqual(now(COURSE, 2.7).place, [0, 1]);
  assert.deepEqual(now(COURSE, -1).place, [1, 3]);
});

test("leaves begin closed, where they meet, and end where they are drawn", () => {
  assert.deepEqual(now(COURSE, 0).shifts, [1, -1]);
  assert.deepEqual(now(COURSE, 3).shifts, [0, 0]);
  const half = now(COURSE, 1.5).shifts;
  assert.ok(Math.abs(half[0] - 0.8) < 1e-12 && Math.abs(half[1] + 0.8) < 1e-12);
});

test("a leaf that follows another goes its share", () => {
  const following = { ...COURSE, leaves: [{ ...LEAVES[1], share: 0.5 }] };
  assert.deepEqual(now(following, 0).shifts, [-0.5]);
});

test("what has happened by then is told, and not before", () => {
  const before = now(COURSE, 0.49);
  assert.deepEqual([before.within, before.told, before.late], [false, false, false]);
  assert.deepEqual([now(COURSE, 0.6).within, now(COURSE, 0.6).told], [true, false]);
  assert.equal(now(COURSE, 0.7).told, true);
  assert.equal(now(COURSE, 1.99).late, false);
  assert.equal(now(COURSE, 2).late, true);
});

test("who is never noticed meets a door that does not move", () => {
  const unnoticed = { ...COURSE, entered: null, told: null, enough: null, times: [0], left: [0], right: [0], words: ["nothing"] };
  const last = now(unnoticed, 2);
  assert.deepEqual([last.within, last.told, last.late, last.open], [false, false, true, "nothing"]);
  assert.deepEqual(last.shifts, [1, -1]);
});

test("words are those of the nearer number", () => {
  assert.equal(now(COURSE, 1.4).open, "nothing");
  assert.equal(now(COURSE, 1.6).open, "800 mm");
  assert.equal(now(COURSE, 9).open, "2000 mm");
});

test("a failure bears its cross in what is not free, else where nobody was noticed", () => {
  const late = { ...COURSE, late: [[[-0.4, 1], [-0.2, 1]], [[0.2, 1], [0.3, 1]]] };
  assert.deepEqual(crosses(late).map(([x]) => Math.round(100 * x) / 100), [-0.3, 0.25]);
  assert.deepEqual(crosses(COURSE), [[0, 1]]);
});
