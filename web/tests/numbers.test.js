/** Inches read as a tape does, and may be typed so. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { shown, typed } = await load("numbers.ts");

test("inches are shown in sixteenths", () => {
  const said = { 6.125: "6 1/8", "-0.1875": "−3/16", 0: "0", 12: "12", 6.102362: "6 1/8", 0.5: "1/2" };
  for (const [value, words] of Object.entries(said)) assert.equal(shown(Number(value), 1 / 16), words);
});

test("other steps keep their decimals", () => {
  assert.equal(shown(-2.4, 0.1), "−2.4");
  assert.equal(shown(58, 1), "58");
});

test("a fraction is a number that can be typed", () => {
  assert.equal(typed("6 1/8", "in"), 6.125);
  assert.equal(typed("−3/16 in", "in"), -0.1875);
  assert.equal(typed("1/2", "in"), 0.5);
  assert.equal(typed("1/0", "in"), null);
  assert.equal(typed("a 1/2", "in"), null);
  assert.equal(typed("2,5", "mm"), 2.5);
});
