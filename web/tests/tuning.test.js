/** The picture to choose on: a tap means the nearest disc, a key the next to its side. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { nearest, next } = await load("tuning/nearest.ts");

const A = { letter: "A", x: 100, y: 300 };
const B = { letter: "B", x: 200, y: 250 };
const C = { letter: "C", x: 205, y: 80 };
const ALL = [C, A, B];

test("a tap means the nearest disc, and none if it is far from all", () => {
  assert.equal(nearest(ALL, 190, 240, 40), B);
  assert.equal(nearest(ALL, 150, 150, 40), null);
});

test("a key leads to the next disc on its side, and stays at the last", () => {
  assert.equal(next(ALL, A, "ArrowRight"), B);
  assert.equal(next(ALL, B, "ArrowRight"), C);
  assert.equal(next(ALL, C, "ArrowRight"), null);
  assert.equal(next(ALL, C, "ArrowLeft"), B);
  assert.equal(next(ALL, C, "ArrowDown"), B);
  assert.equal(next(ALL, B, "ArrowUp"), C);
  assert.equal(next(ALL, B, "Home"), A);
  assert.equal(next(ALL, A, "End"), C);
});

test("every disc is reached by going one way from the first", () => {
  const seen = [];
  for (let at = next(ALL, A, "Home"); at; at = next(ALL, at, "ArrowRight")) seen.push(at.letter);
  assert.deepEqual(seen, ["A", "B", "C"]);
});
