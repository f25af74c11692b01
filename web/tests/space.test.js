/** The doorway in space: nothing is mirrored, all is in the picture, words keep apart. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { upright } = await load("space/scene.ts");
const orbit = await load("space/orbit.ts");
const { hatched } = await load("space/hatch.ts");
const { shown } = await load("space/apart.ts");

const STANDS = ["first", "first inside", "outside", "inside", "side", "above"];
const POINTS = [];
for (const x of [-2, 3]) for (const y of [-1, 2.5]) for (const z of [0, 2.4]) POINTS.push([x, y, z]);

const near = (found, wanted, slack = 1e-9) =>
  assert.ok(Math.abs(found - wanted) <= slack, `${found} is not ${wanted}`);
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const dot = (a, b) => a.reduce((sum, value, i) => sum + value * b[i], 0);
const minus = (a, b) => a.map((value, i) => value - b[i]);

/** Where a right-handed tool puts a point in its picture: right, up, and how far off. */
function pictured(eye, point) {
  const at = upright(orbit.eyeAt(eye));
  const ahead = minus(upright(eye.at), at);
  const length = Math.hypot(...ahead);
  const look = ahead.map((value) => value / length);
  const across = cross(look, [0, 1, 0]);
  const right = across.map((value) => value / Math.hypot(...across));
  const above = cross(right, look);
  const off = minus(upright(point), at);
  const far = dot(off, look);
  return [dot(off, right) / far, dot(off, above) / far, far];
}

test("who stands outside has the right-hand post on the right", () => {
  const eye = orbit.standing("outside", POINTS, 1.5);
  assert.ok(pictured(eye, [1, 0, 1])[0] > pictured(eye, [-1, 0, 1])[0]);
  assert.ok(pictured(eye, [0, 1, 0])[2] < pictured(eye, [0, -1, 0])[2]); // outside is nearer
});

test("who stands inside has the right-hand post, as it is called from outside, on the left", () => {
  const eye = orbit.standing("inside", POINTS, 1.5);
  assert.ok(pictured(eye, [1, 0, 1])[0] < pictured(eye, [-1, 0, 1])[0]);
});

test("who looks from inside at first has the inside nearer", () => {
  const eye = orbit.standing("first inside", POINTS, 1.5);
  assert.ok(pictured(eye, [0, -1, 0])[2] < pictured(eye, [0, 1, 0])[2]);
});

test("from above outside is at the lower edge and right is on the right, as in the plan", () => {
  const eye = orbit.standing("above", POINTS, 1.5);
  assert.ok(pictured(eye, [0, 1, 0])[1] < pictured(eye, [0, -1, 0])[1]);
  assert.ok(pictured(eye, [1, 0, 0])[0] > pictured(eye, [-1, 0, 0])[0]);
});

test("from every standpoint all is in the picture, at any shape of it", () => {
  const tall = Math.tan(orbit.LENS / 2);
  for (const stand of STANDS) {
    for (const aspect of [0.5, 1, 2.4]) {
      const eye = orbit.standing(stand, POINTS, aspect);
      for (const point of POINTS) {
        const [right, above, far] = pictured(eye, point);
        assert.ok(far > 0.1, `${stand} ${aspect}: behind the eye`);
        assert.ok(Math.abs(right) <= tall * aspect && Math.abs(above) <= tall, `${stand} ${aspect}: cut off`);
      }
    }
  }
});

test("the axes of an eye are at right angles and one long", () => {
  for (const [round, up] of [[0, 0.2], [1, 0.7], [-2.5, 1.4], [3.1, 0.05]]) {
    const axes = orbit.axesOf(round, up);
    axes.forEach((one, i) => axes.forEach((other, j) => near(dot(one, other), i === j ? 1 : 0, 1e-12)));
  }
});

test("nobody gets below the floor, over the top, through the door or out of sight", () => {
  let eye = orbit.standing("first", POINTS, 1);
  for (let i = 0; i < 200; i += 1) eye = orbit.turned(eye, 0.3, -0.2);
  assert.ok(orbit.eyeAt(eye)[2] > eye.at[2] && Math.abs(eye.round) <= Math.PI);
  for (let i = 0; i < 200; i += 1) eye = orbit.turned(eye, 0, 0.2);
  assert.ok(eye.up < Math.PI / 2);
  assert.ok(orbit.nearer(eye, 1e6).far > 0.5);
  assert.ok(orbit.nearer(eye, 1e-6).far < 60);
});

test("keys turn and bring nearer; a key of something else does nothing", () => {
  const eye = orbit.standing("first", POINTS, 1);
  assert.ok(orbit.keyed(eye, "ArrowRight", false).round > eye.round);
  assert.ok(orbit.keyed(eye, "ArrowUp", false).up > eye.up);
  assert.ok(orbit.keyed(eye, "+", false).far < eye.far);
  assert.ok(orbit.keyed(eye, "-", false).far > eye.far);
  assert.equal(orbit.keyed(eye, "Tab", false), null);
  const back = orbit.keyed(orbit.keyed(eye, "ArrowLeft", true), "ArrowRight", true);
  near(back.round, eye.round);
});

test("hatching covers an area evenly and never leaves it", () => {
  const bent = [[0, 0], [3, 0], [3, 2], [2, 2], [2, 1], [1, 1], [1, 2], [0, 2]]; // 5 m²
  const e = 1e-9;
  const within = ([x, y]) => x >= -e && x <= 3 + e && y >= -e && y <= 2 + e;
  const inside = ([x, y]) => within([x, y]) && !(x > 1 + e && x < 2 - e && y > 1 + e);
  const step = 0.01;
  let length = 0;
  for (const [[ax, ay], [bx, by]] of hatched(bent, step)) {
    length += Math.hypot(bx - ax, by - ay);
    near(bx - ax, by - ay);
    for (const share of [1e-6, 0.25, 0.5, 0.75, 1 - 1e-6]) {
      assert.ok(inside([ax + share * (bx - ax), ay + share * (by - ay)]));
    }
  }
  near(length * step, 5, 0.05);
});

test("of words that would stand on each other the more important stays", () => {
  const room = { width: 100, height: 100 };
  const word = (left, top, importance) => ({ left, top, width: 30, height: 10, importance });
  assert.deepEqual([...shown([word(0, 0, 2), word(10, 5, 1), word(60, 0, 3)], room)].sort(), [1, 2]);
  assert.deepEqual([...shown([word(80, 0, 1), word(-1, 50, 1), word(0, 95, 1)], room)], []);
});
