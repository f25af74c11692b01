/** Readings are kept as they were typed, and come back to the unit they belong to. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { fitted, nextName, says, turned } = await load("readings/held.ts");

const FIELDS = { "u0.fitting": "inside", "u0.r1.kind": "row line", "u0.r1.out": "78", "u0.r1.place": "−12", "u0.r1.row": "1" };
const HELD = { units: "metric", fields: FIELDS };

test("kinds and rows that a page offers by itself are no readings", () => {
  assert.equal(says({ units: "metric", fields: { "u0.fitting": "inside", "u0.r1.kind": "row line", "u0.r1.row": "1" } }), false);
  assert.equal(says(HELD), true);
});

test("readings go with their unit, whatever number it has now", () => {
  const now = fitted(HELD, "metric", { outside: "u0", inside: "u1" });
  assert.equal(now["u1.r1.out"], "78");
  assert.equal(now["u0.r1.out"], undefined);
});

test("readings of a unit that hangs there no more are left", () => {
  assert.deepEqual(fitted(HELD, "metric", { outside: "u0" }), {});
});

test("a bare length keeps the unit it was typed in, a row stays a number", () => {
  const now = fitted(HELD, "feet", { inside: "u0" });
  assert.equal(now["u0.r1.out"], "78 mm");
  assert.equal(now["u0.r1.place"], "−12 mm");
  assert.equal(now["u0.r1.row"], "1");
  const feet = { units: "feet", fields: { ...FIELDS, "u0.r1.out": "3 1/8 ± 1/8", "u0.r1.place": "6 ft" } };
  const metric = fitted(feet, "metric", { inside: "u0" });
  assert.equal(metric["u0.r1.out"], "3 1/8 ± 1/8 in");
  assert.equal(metric["u0.r1.place"], "6 ft");
});

test("a turned sign turns back", () => {
  assert.equal(turned("120"), "−120");
  assert.equal(turned(turned("120 ± 3")), "120 ± 3");
  assert.equal(turned("-120"), "120");
});

test("a reading more is called like none before, and none of the first five", () => {
  assert.equal(nextName([]), 6);
  assert.equal(nextName([1, 2, 3, 4, 5, 9]), 10);
});
