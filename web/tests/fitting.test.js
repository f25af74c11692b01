/** The card's small fit is the desk's: the same readings, the same pose and wrong reading. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

import { load } from "./loading.js";

const { fitted, metres, takenOf, turning } = await load("card/fitting.ts");
const { chanceAbove, leastSquares, looseness } = await load("card/fitting_solving.ts");

const FILE = fileURLToPath(new URL("../../tests/shared/fits.json", import.meta.url));
const { fits, vectors } = JSON.parse(readFileSync(FILE, "utf-8"));
const CLOSE = 1e-7; // m, rad, and of a share

function of({ door, fitting }) {
  const fit = fits[door];
  return { fit, unit: fit.units.find((one) => one.fitting === fitting) };
}

function near(found, told, where) {
  assert.equal(found === null, told === null, `${where}: ${found} and ${told}`);
  found?.forEach((value, k) => assert.ok(Math.abs(value - told[k]) <= CLOSE, `${where}, figure ${k}: ${value}, desk ${told[k]}`));
}

test("a unit hangs as the desk has it hang, to 1e-7", () => {
  assert.ok(vectors.length >= 24);
  vectors.forEach((one, k) => {
    const { fit, unit } = of(one);
    const found = fitted(unit, takenOf(fit, unit, one.readings));
    const where = `vector ${k}, ${one.door} ${one.fitting}`;
    assert.equal(found.outcome, one.told.outcome, where);
    assert.deepEqual(found.wrong, one.told.wrong, where);
    near(found.pose, one.told.pose, where);
  });
});

test("vectors show every outcome", () => {
  const outcomes = new Set(vectors.map((one) => one.told.outcome));
  assert.deepEqual([...outcomes].sort(), ["at odds", "fitted", "tied", "too few"]);
});

test("what to turn brings the row onto its line", () => {
  const one = vectors.find(({ told }) => told.outcome === "fitted");
  const { unit } = of(one);
  const pose = one.told.pose;
  const target = { fitting: unit.fitting, row: 1, least: 0.05, best: 0.06, most: 0.07 };
  const { by, turn } = turning({ ...unit, step: null }, pose, target);
  const turned = pose.map((value, k) => (k === 0 ? value + turn : value));
  const again = turning({ ...unit, step: null }, turned, target);
  assert.ok(Math.abs(again.by) < 1e-12);
  assert.equal(Math.sign(by), Math.sign(turn));
});

test("steps that jump over the window are told", () => {
  const one = vectors.find(({ told }) => told.outcome === "fitted");
  const { unit } = of(one);
  const coarse = turning({ ...unit, step: 0.1 }, one.told.pose, { fitting: "", row: 1, least: 0.0899, best: 0.09, most: 0.0901 });
  assert.equal(coarse.inWindow, false);
});

test("lengths are read as they are typed at the door", () => {
  assert.deepEqual(metres("540 mm"), { value: 0.54, within: 0 });
  assert.equal(metres("21 1/4 in").value, 21.25 * 0.0254);
  assert.equal(metres("-12 mm").value, -0.012);
  assert.equal(metres("540 mm ± 2 mm").within, 0.002);
  assert.equal(metres("1/4 in").value, 0.25 * 0.0254);
  for (const wrong of ["540", "mm", "", "5 4 mm", "five mm", undefined]) assert.equal(metres(wrong), null, wrong);
});

// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, upper critical values of
// the chi-square distribution (from memory): to its three decimals.
const CRITICAL = [[1, 0.05, 3.841], [2, 0.05, 5.991], [5, 0.01, 15.086], [10, 0.001, 29.588], [3, 0.1, 6.251]];

test("the chi-squared is that of the tables", () => {
  for (const [spare, chance, value] of CRITICAL) {
    assert.ok(chanceAbove(value - 6e-4, spare) > chance, `${spare} ${chance}`);
    assert.ok(chanceAbove(value + 6e-4, spare) < chance, `${spare} ${chance}`);
  }
  assert.equal(chanceAbove(0, 4), 1);
});

test("what no term sees is infinitely loose", () => {
  assert.deepEqual(looseness([[1, 0], [2, 0]], 2)[1], Infinity);
  const [a, b] = looseness([[3, 0], [0, 4]], 2);
  assert.ok(Math.abs(a - 1 / 3) < 1e-15 && Math.abs(b - 1 / 4) < 1e-15);
  assert.deepEqual(looseness([[1, 1], [1, 1]], 2), [Infinity, Infinity]);
});

test("least squares finds where a curve was drawn from", () => {
  const truth = [1.3, -0.4];
  const xs = [0, 0.5, 1, 1.5, 2];
  const curve = ([a, b], x) => a * Math.exp(b * x);
  const found = leastSquares((point) => xs.map((x) => curve(point, x) - curve(truth, x)), [1, 0], 2);
  truth.forEach((value, k) => assert.ok(Math.abs(found[k] - value) < 1e-9));
});
