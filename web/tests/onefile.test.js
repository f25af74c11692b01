/** A card without a database keeps a tap whole or not at all, and says when it cannot. */
import assert from "node:assert/strict";
import { test } from "node:test";

import { load } from "./loading.js";

const { memory, TextStore } = await load("card/keeping_text.ts");

const OF = { visit: "v", site: "s", doorway: "main" };
const AT = "2026-11-26T10:12:00Z";
const NOTE = { kind: "note", said: { text: "–" } };
const PACK = { site: "s", doorway: "main", name: "Main entrance" };

class Shelf {
  text = null;
  room = Infinity;
  forgets = false;
  get() {
    return this.text;
  }
  set(text) {
    if (text.length > this.room) throw new DOMException("full", "QuotaExceededError");
    if (!this.forgets) this.text = text;
  }
}

test("events are numbered in the order in which they were kept, over reloads", async () => {
  const shelf = new Shelf();
  const first = await new TextStore(shelf).keep([NOTE, NOTE], OF, AT);
  const [next] = await new TextStore(shelf).keep([NOTE], OF, AT);
  assert.deepEqual([...first, next].map((one) => one.seq), [1, 2, 3]);
  assert.equal(next.device, first[0].device);
  assert.equal((await new TextStore(shelf).events()).length, 3);
  assert.equal(new Set([...first, next].map((one) => one.id)).size, 3);
});

test("a shelf that is full refuses, and what was there stays", async () => {
  const shelf = new Shelf();
  const store = new TextStore(shelf);
  await store.keep([NOTE], OF, AT);
  shelf.room = shelf.text.length;
  await assert.rejects(store.keep([NOTE], OF, AT), (why) => why.why === "full");
  assert.equal((await store.events()).length, 1);
});

test("a shelf that forgets is not said to have kept", async () => {
  const shelf = new Shelf();
  const store = new TextStore(shelf);
  await store.keep([NOTE], OF, AT);
  shelf.forgets = true;
  await assert.rejects(store.keep([NOTE], OF, AT), (why) => why.why === "refused");
});

test("a text that is none of ours is not written over", async () => {
  const shelf = new Shelf();
  shelf.text = "{";
  await assert.rejects(new TextStore(shelf).events());
  await assert.rejects(new TextStore(shelf).keep([NOTE], OF, AT));
  assert.equal(shelf.text, "{");
});

test("two taps at once are both kept, each with its own number", async () => {
  const store = memory();
  await Promise.all(Array.from({ length: 20 }, () => store.keep([NOTE], OF, AT)));
  assert.deepEqual((await store.events()).map((one) => one.seq), Array.from({ length: 20 }, (_, at) => at + 1));
});

test("a pack taken anew takes the place of the one before", async () => {
  const store = memory();
  await store.take(PACK, "v1", AT);
  await store.take({ ...PACK, name: "Entrance" }, "v2", AT);
  await store.take({ ...PACK, doorway: "staff" }, "v3", AT);
  assert.deepEqual((await store.taken()).map((one) => [one.key, one.visit]), [["s/main", "v2"], ["s/staff", "v3"]]);
  await store.leave("s/main");
  assert.equal((await store.taken()).length, 1);
});

test("choices and seals are kept beside the events", async () => {
  const store = memory();
  assert.equal((await store.choices()).left, false);
  await store.setChoices({ ...(await store.choices()), left: true });
  assert.equal((await store.choices()).left, true);
  const sealed = { ...OF, text: "{}", sent: false };
  await store.keep([NOTE], OF, AT, undefined, sealed);
  await store.sealedSent("v");
  assert.deepEqual(await store.sealed(), [{ ...sealed, sent: true }]);
});
