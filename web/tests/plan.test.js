/** Places on a floor plan: held on the picture, moved by keys. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { heldWithin, moved } = await load("plan/place.ts");

test("a place is held on the picture, to tenths of a percent", () => {
  assert.deepEqual(heldWithin({ x: -3, y: 104 }), { x: 0, y: 100 });
  assert.deepEqual(heldWithin({ x: 33.333, y: 66.666 }), { x: 33.3, y: 66.7 });
});

test("arrow keys move by one percent, with Shift by a tenth, and never off", () => {
  assert.deepEqual(moved({ x: 50, y: 50 }, "ArrowRight", false), { x: 51, y: 50 });
  assert.deepEqual(moved({ x: 50, y: 50 }, "ArrowUp", true), { x: 50, y: 49.9 });
  assert.deepEqual(moved({ x: 0, y: 100 }, "ArrowLeft", false), { x: 0, y: 100 });
  assert.equal(moved({ x: 50, y: 50 }, "Tab", false), null);
});
