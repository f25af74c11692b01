/** Of what a hand asks for only the newest is sent, and while the last is drawn. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { Latest } = await load("doorway/latest.ts");

/** A server that answers when it is told to. */
function slow() {
  const asked = [];
  const ask = (what) => new Promise((done) => asked.push({ what, done }));
  return { asked, ask };
}

const turn = () => new Promise((done) => setTimeout(done));

test("of those that come while one is under way only the newest is sent", async () => {
  const { asked, ask } = slow();
  const told = [];
  const latest = new Latest(ask, (found, what) => told.push([what, found]));
  latest.ask(1);
  latest.ask(2);
  latest.ask(3);
  assert.deepEqual(asked.map((one) => one.what), [1]);
  asked[0].done("a");
  await turn();
  assert.deepEqual(asked.map((one) => one.what), [1, 3]);
  asked[1].done("b");
  await turn();
  assert.deepEqual(told, [[1, "a"], [3, "b"]]);
});

test("the next is sent before the last is drawn", async () => {
  const { asked, ask } = slow();
  let underWay = 0;
  const latest = new Latest(ask, () => (underWay = asked.length));
  latest.ask(1);
  latest.ask(2);
  asked[0].done("a");
  await turn();
  assert.equal(underWay, 2);
});

test("what is asked while one is drawn is sent", async () => {
  const { asked, ask } = slow();
  const latest = new Latest(ask, (_, what) => what === 1 && latest.ask(2));
  latest.ask(1);
  asked[0].done("a");
  await turn();
  assert.deepEqual(asked.map((one) => one.what), [1, 2]);
});

test("what was dropped is not told, and what comes after is", async () => {
  const { asked, ask } = slow();
  const told = [];
  const latest = new Latest(ask, (found) => told.push(found));
  latest.ask(1);
  latest.drop();
  latest.ask(2);
  asked[0].done("old");
  await turn();
  asked[1].done("new");
  await turn();
  assert.deepEqual(told, ["new"]);
});
