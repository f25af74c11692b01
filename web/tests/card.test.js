/** What the job card reckons: what a visit comes to, what is next, what is sent. */
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { load } from "./loading.js";

const { fold, inOrder, takingBack } = await load("card/folding.ts");
const steps = await load("card/steps.ts");
const { Sync, batches } = await load("card/sync.ts");
const timing = await load("card/timing.ts");
const lengths = await load("card/lengths.ts");
const { placeOf, toDoor } = await load("card/routes.ts");
const { Saying } = await load("card/words.ts");
const { overlay } = await load("card/plan.ts");
const { within } = await load("card/photo.ts");
const { reckoned } = await load("card/digest.ts");
const { moment, ANSWERS, TOOLS } = await load("card/events.ts");
const { freshId } = await load("card/ids.ts");
const { isPack } = await load("card/pack.ts");
const shared = JSON.parse(readFileSync(new URL("../../tests/shared/visit_events.json", import.meta.url), "utf-8"));

const OF = { visit: "v", site: "s", doorway: "main" };
const START = { found: "existing", person: "R. Okafor", budget: "after repair", version: 1, digest: "0".repeat(64) };
let last = 0;
const event = (kind, said, more = {}) => {
  last += 1;
  return { id: `e${last}`, device: "a", seq: last, at: `2026-11-26T10:00:${String(last % 60).padStart(2, "0")}Z`, ...OF, kind, said, ...more };
};
const answer = (step, given, more) => event("step", { step, answer: given }, more);

const TESTS = [
  ["left", true, 1],
  ["right", true, 1],
  ["p1", false, 1],
  ["p2", false, 1],
  ["p3", false, 1.5],
  ["p4", false, 2.5],
].map(([id, minimum, minutes]) => ({ id, minimum, minutes, title: id, says: "", why: "", place: null, tools: [], if_failed: [] }));
TESTS[1].if_failed = [{ cause: "row", turn: "nearer", again: ["left"], after: ["touched"] }];
TESTS[2].like = "right";
const PACK = {
  site: "s",
  doorway: "main",
  tests: TESTS,
  work: [
    { id: "mechanics", title: "Mechanics", says: "", found: ["new"], after: false },
    { id: "aim", title: "Aim", says: "", found: [], after: false },
    { id: "learn", title: "Learn", says: "", found: [], after: false },
    { id: "log", title: "Log", says: "", found: ["existing"], after: true },
  ],
  budgets: { yearly: { steps: 8, minutes: 6 }, acceptance: { steps: 15, minutes: 15 }, "after repair": { steps: 2, minutes: 3 } },
};
const first = (_, among) => (among[0] ? { id: among[0].id, because: "least room", left: 1, of: 1 } : null);
const nextOf = (events) => steps.next(PACK, fold(events), first).id;

/** All orders of a few things. */
function orders(things) {
  if (things.length < 2) return [things];
  return things.flatMap((one, at) => orders(things.toSpliced(at, 1)).map((rest) => [one, ...rest]));
}

test("a visit is the same in whatever order its events come, and however often", () => {
  const events = [event("started", START), answer("left", "touched"), answer("left", "stayed open"), event("note", { text: "dry" })];
  const plain = (visit) => JSON.stringify({ ...visit, answers: [...visit.answers], work: [...visit.work], precautions: [...visit.precautions] });
  const once = plain(fold(events));
  for (const order of orders(events)) assert.equal(plain(fold([...order, order[0]])), once);
  assert.equal(fold(events).answers.get("left").said.answer, "stayed open");
});

test("what is taken back does not count, and counts again when that is taken back", () => {
  const given = answer("left", "touched");
  const back = event("undone", takingBack(given).said);
  const forth = event("undone", { event: back.id });
  assert.equal(fold([given]).answers.size, 1);
  assert.equal(fold([given, back]).answers.size, 0);
  assert.equal(fold([given, back, forth]).answers.size, 1);
});

test("a clock that is set back changes nothing in a device's own order", () => {
  const events = [answer("left", "touched", { at: "2026-11-26T12:00:00Z" }), answer("left", "stayed open", { at: "2019-01-01T00:00:00Z" })];
  assert.equal(fold(events).answers.get("left").said.answer, "stayed open");
});

test("two devices are put among each other by what their clocks say, then by name", () => {
  const at = (device, seq, time) => event("note", { text: `${device}${seq}` }, { device, seq, at: `2026-11-26T10:00:${time}Z` });
  const events = [at("b", 1, "05"), at("a", 1, "05"), at("a", 2, "30"), at("b", 2, "10")];
  assert.deepEqual(inOrder(events).map((one) => one.said.text), ["a1", "b1", "b2", "a2"]);
});

test("of two that say different things only what a person chose stands", () => {
  const [one, other] = [answer("left", "touched"), answer("left", "stayed open")];
  const chosen = event("settled", { between: [one.id, other.id], stands: one.id, person: "R. Okafor" });
  assert.equal(fold([one, other, chosen]).answers.get("left").said.answer, "touched");
});

test("every example of an event that the desk takes is folded", () => {
  const { started, standing } = fold(shared.accepted.map((one) => one.event));
  assert.ok(started);
  assert.ok(standing.length > 5);
  const kinds = new Set(shared.accepted.map((one) => one.event.kind));
  for (const kind of ["started", "precaution", "as_found", "step", "reading", "photo", "work", "note", "defect", "handed_over", "undone", "sealed"]) {
    assert.ok(kinds.has(kind), kind);
  }
  for (const { event: one } of shared.accepted) {
    if (one.kind !== "step") continue;
    assert.ok(ANSWERS.includes(one.said.answer));
    if (one.said.tool) assert.ok(TOOLS.includes(one.said.tool));
  }
});

test("first the barrier, then readings as found, then what is never left out", () => {
  const events = [];
  const expect = (id) => assert.equal(nextOf(events), id);
  expect("start");
  events.push(event("started", START));
  expect("barrier");
  events.push(event("precaution", { step: "barrier" }));
  expect("as_found");
  events.push(answer("as_found", "cannot", {}));
  expect("left");
  events.push(answer("right", "stayed open"));
  expect("left");
  events.push(answer("left", "stayed open"));
  expect("p1");
});

test("a new door is worked at before it is tested, and has nothing that was found", () => {
  const events = [event("started", { ...START, found: "new", budget: "acceptance" }), event("precaution", { step: "barrier" })];
  assert.equal(nextOf(events), "mechanics");
  events.push(event("work", { step: "mechanics", done: true }));
  assert.equal(nextOf(events), "left");
});

test("further places end with their number or their minutes, whichever is first", () => {
  const begun = [event("started", START), event("precaution", { step: "barrier" }), answer("as_found", "cannot"), answer("left", "stayed open"), answer("right", "cannot")];
  const budget = (events) => steps.withinBudget(PACK, fold(events)).map((one) => one.id);
  assert.deepEqual(budget(begun), ["p1", "p2", "p3", "p4"]);
  assert.deepEqual(budget([...begun, answer("p1", "stayed open")]), ["p2", "p3"]);
  assert.deepEqual(budget([...begun, answer("p1", "stayed open"), answer("p2", "stayed open")]), []);
  assert.equal(nextOf([...begun, answer("p1", "stayed open"), answer("p3", "stayed open")]), "log");
  const logged = [answer("p1", "stayed open"), answer("p3", "stayed open"), event("work", { step: "log", done: true })];
  assert.equal(nextOf([...begun, ...logged]), "hand_over");
});

test("what was turned because of a failed test makes its tests owed again, until they are answered", () => {
  const events = [event("started", START), event("precaution", { step: "barrier" }), answer("as_found", "cannot"), answer("left", "stayed open"), answer("right", "touched")];
  const owed = () => [...steps.owedAgain(PACK, fold(events))];
  assert.deepEqual(owed(), []);
  events.push(event("work", { step: steps.causeId("right", 0), done: true }));
  assert.deepEqual(owed(), ["left", "right"]);
  events.push(answer("left", "stayed open"));
  assert.deepEqual(owed(), ["right"]);
  assert.equal(nextOf(events), "right");
  events.push(answer("right", "stayed open"));
  assert.deepEqual(owed(), []);
});

test("progress never says more is done than there is, and ends full", () => {
  const events = [event("started", START), event("precaution", { step: "barrier" }), answer("as_found", "cannot")];
  let before = -1;
  for (const id of ["left", "right", "p1", "p2"]) {
    events.push(answer(id, "stayed open"));
    const { done, of } = steps.progress(PACK, fold(events));
    assert.ok(done > before && done <= of, `${done} of ${of}`);
    before = done;
  }
  events.push(event("work", { step: "log", done: true }), event("handed_over", { state: "in use", signature: [] }));
  const { done, of } = steps.progress(PACK, fold(events));
  assert.equal(done, of);
});

/** A store and a desk that lose their line when they are told to. */
function sending(events, { photos = [], refuseAt = null } = {}) {
  const kept = new Map();
  let sent = 0;
  let line = true;
  const store = {
    events: async () => events,
    photos: async () => photos,
    sealed: async () => [],
    sent: async () => sent,
    setSent: async (seq) => (sent = seq),
    photoSent: async (sha256) => (photos.find((one) => one.sha256 === sha256).sent = true),
  };
  const desk = {
    kept: async () => {
      const last = [...kept.values()].sort((a, b) => a.seq - b.seq).at(-1);
      return line ? { seq: last?.seq ?? 0, id: last?.id ?? null } : null;
    },
    events: async (batch) => {
      for (const one of batch) {
        if (one.seq === refuseAt) return { kind: "refused", upTo: refuseAt - 1, why: "no" };
        kept.set(one.id, one);
      }
      // Taken in, and the answer lost on its way back.
      return line ? { kind: "kept", clash: false } : { kind: "unanswered" };
    },
    photo: async () => (line ? { kind: "kept", clash: false } : { kind: "unanswered" }),
    sealed: async () => ({ kind: "kept", clash: false }),
  };
  const states = [];
  const sync = new Sync(store, desk, (state) => states.push(state), () => undefined);
  return { sync, kept, states, cut: (on) => (line = on) };
}

test("what is kept is sent once, in order, photos after the events that speak of them", async () => {
  const events = Array.from({ length: 120 }, (_, at) => event("note", { text: String(at) }, { seq: at + 1 }));
  const photos = [{ sha256: "x", sent: false }];
  const { sync, kept } = sending(events, { photos });
  await sync.run();
  assert.deepEqual([...kept.values()].map((one) => one.seq), events.map((one) => one.seq));
  assert.ok(photos[0].sent);
  assert.deepEqual({ kind: sync.state.kind, waiting: sync.state.waiting }, { kind: "rest", waiting: 0 });
});

test("a device set up from a copy sends all it has: its numbers were used by another", async () => {
  const events = [1, 2, 3].map((seq) => event("note", { text: `ours ${seq}` }, { seq, id: `ours-${seq}` }));
  const { sync, kept } = sending(events);
  for (const one of [1, 2, 3, 4].map((seq) => ({ seq, id: `theirs-${seq}` }))) kept.set(one.id, one);
  await sync.run();
  assert.deepEqual(
    events.map((one) => kept.get(one.id)?.seq),
    [1, 2, 3],
  );
  assert.equal(sync.state.waiting, 0);
});

test("an answer that was lost on its way loses nothing and sends nothing twice", async () => {
  const events = Array.from({ length: 3 }, (_, at) => event("note", { text: String(at) }, { seq: at + 1 }));
  const { sync, kept, cut } = sending(events);
  cut(false);
  await sync.run();
  assert.equal(sync.state.kind, "unanswered");
  cut(true);
  await sync.run();
  assert.equal(kept.size, 3);
  assert.equal(sync.state.waiting, 0);
});

test("what the desk refuses is said, what came before it is kept, and nothing is thrown away", async () => {
  const events = Array.from({ length: 3 }, (_, at) => event("note", { text: String(at) }, { seq: at + 1 }));
  const { sync, kept } = sending(events, { refuseAt: 2 });
  await sync.run();
  assert.deepEqual([sync.state.kind, sync.state.why, sync.state.waiting], ["refused", "no", 2]);
  assert.equal(kept.size, 1);
  assert.equal(events.length, 3);
});

test("a batch is of one visit and never longer than the desk takes", () => {
  const events = Array.from({ length: 70 }, (_, at) => event("note", {}, { seq: at + 1, visit: at < 60 ? "one" : "two" }));
  assert.deepEqual(batches(events).map((one) => one.length), [50, 10, 10]);
});

test("a tap can be taken back for ten seconds, on a clock that nobody sets", () => {
  assert.equal(timing.undoable(null, 5), 0);
  assert.equal(timing.undoable(1000, 1000), 10_000);
  assert.equal(timing.undoable(1000, 10_999), 1);
  assert.equal(timing.undoable(1000, 11_000), 0);
});

test("a wait and a stopwatch run, stand and go on", () => {
  let watch = timing.pressed(timing.STILL, 1000);
  assert.equal(timing.left(watch, 30, 1000), 30);
  assert.equal(timing.left(watch, 30, 2500), 29);
  assert.equal(timing.left(watch, 30, 31_000), 0);
  watch = timing.pressed(watch, 3500);
  assert.equal(timing.ran(watch, 99_000), 2500);
  watch = timing.pressed(watch, 100_000);
  assert.equal(timing.ran(watch, 100_500), 3000);
  assert.equal(timing.clock(65_430), "1:05");
  assert.equal(timing.clock(65_430, "."), "1:05.4");
});

test("lengths are read and written as on a tape", () => {
  const { shownLength, typedLength, writtenLength } = lengths;
  assert.equal(shownLength(0.5404, false), "540\u00a0mm");
  assert.equal(shownLength(0.5397, true), "1\u00a0ft\u00a09\u00a01/4\u00a0in");
  assert.equal(shownLength(0.3048, true), "1\u00a0ft");
  assert.equal(shownLength(0, true), "0\u00a0in");
  assert.equal(shownLength(0.0127, true), "1/2\u00a0in");
  assert.equal(typedLength("540", false), 0.54);
  assert.ok(Math.abs(typedLength("−12,5", false) + 0.0125) < 1e-12);
  assert.ok(Math.abs(typedLength("21 1/4", true) - 0.53975) < 1e-12);
  for (const text of ["", "abc", "1 1/2", "--5", "5 mm"]) assert.equal(typedLength(text, false), null, text);
  for (const text of ["1/0", "in"]) assert.equal(typedLength(text, true), null, text);
  assert.equal(writtenLength(" −12,5 ", false), "-12.5 mm");
  assert.equal(writtenLength("21  1/4", true), "21 1/4 in");
});

test("an address leads to its screen, whatever stands in it", () => {
  assert.deepEqual(placeOf("#/take/abc/main"), { at: "take", site: "abc", doorway: "main", owed: false });
  assert.deepEqual(placeOf(toDoor("abc/main", "step", "leaf.left")), { at: "door", key: "abc/main", screen: "step", id: "leaf.left" });
  assert.deepEqual(placeOf(toDoor("abc/main")), { at: "door", key: "abc/main", screen: "next", id: "" });
  for (const wrong of ["", "#", "#/door/abc", "#/%E0%A4%A/x", "#/nowhere/a/b"]) assert.deepEqual(placeOf(wrong), { at: "home" }, wrong);
});

test("a count takes the form of its language, and what is missing shows its key", () => {
  const words = { "k.one": "{count} tap", "k.many": "{count} taps", "k.none": "nothing" };
  const [english, french] = [new Saying(words, "en"), new Saying({ "k.one": "{count} a", "k.many": "{count} b" }, "fr")];
  assert.deepEqual([0, 1, 2].map((n) => english.count("k", n)), ["nothing", "1 tap", "2 taps"]);
  assert.equal(french.count("k", 0), "0 a");
  assert.equal(english.say("not.there"), "not.there");
});

test("the box lies where the tape says: its edge from the nearer post", () => {
  const ground = { zero: [180, 60], scale: 100, posts: [-1, 1] };
  const place = { x: 0.46, y: 0.1, yaw: 0, width: 0.3, depth: 0.2, post: "right", far: 0.39 };
  const laid = overlay(ground, place);
  assert.deepEqual([laid.from[0], laid.to[0]].map(Math.round), [280, 241]);
  assert.equal(laid.distance, 0.39);
  assert.deepEqual(laid.corners.map((one) => one.map(Math.round)), [[211, 60], [241, 60], [241, 80], [211, 80]]);
  const turned = overlay({ ...ground, scale: -100 }, { ...place, post: null });
  assert.deepEqual([turned.from[0], turned.to[0]].map(Math.round), [280, 241]);
  assert.equal(overlay(ground, { ...place, far: 0 }).distance, null);
});

test("turned rows make the tests of places owed again, and the unit learn first", () => {
  const tests = TESTS.map((one) => (one.id === "left" ? { ...one, place: {} } : one));
  const pack = { ...PACK, tests };
  const events = [event("started", START), event("precaution", { step: "barrier" }), answer("as_found", "cannot"), answer("left", "stayed open"), answer("right", "stayed open")];
  events.push(event("work", { step: "aim", done: true }));
  assert.deepEqual([...steps.owedAgain(pack, fold(events))], ["left"]);
  assert.equal(steps.next(pack, fold(events), first).id, "learn");
  events.push(event("work", { step: "learn", done: true }));
  assert.equal(steps.next(pack, fold(events), first).id, "left");
});

test("a further place has the causes of the test that it is like", () => {
  const events = [event("started", START), answer("left", "stayed open"), answer("p1", "touched"), event("work", { step: steps.causeId("p1", 0), done: true })];
  assert.deepEqual([...steps.owedAgain(PACK, fold(events))], ["left", "p1"]);
});

test("a photo is made smaller, never larger, and keeps its shape", () => {
  assert.deepEqual(within(4000, 3000), [1600, 1200]);
  assert.deepEqual(within(800, 600), [800, 600]);
  assert.deepEqual(within(10_000, 1), [1600, 1]);
});

test("a digest without the browser's help is that of FIPS 180-4", () => {
  // NIST, Secure Hash Standard example values (2001): "abc", the empty text, 448 bits.
  const known = {
    abc: "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    "": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq: "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
  };
  const hex = (bytes) => Buffer.from(bytes).toString("hex");
  for (const [text, digest] of Object.entries(known)) assert.equal(hex(reckoned(new TextEncoder().encode(text))), digest);
  for (let length = 0; length < 200; length += 1) {
    const bytes = Uint8Array.from({ length }, (_, at) => (at * 37 + length) % 256);
    assert.equal(hex(reckoned(bytes)), createHash("sha256").update(bytes).digest("hex"), length);
  }
});

test("a new name has the form that the desk takes, and a moment too", () => {
  assert.match(freshId(), /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  assert.equal(moment(new Date(Date.UTC(2026, 10, 26, 10, 12, 0, 999))), "2026-11-26T10:12:00Z");
});

test("what is no pack is told from one", () => {
  for (const wrong of [null, 5, {}, { schema: 2 }, { schema: 1, site: "", doorway: "d", name: "n", tests: [], work: [], card: {} }]) assert.equal(isPack(wrong), false);
});

test("a visit sealed at the door is, byte for byte, the record that the desk makes of it", async () => {
  const { sealedVisit } = await load("card/sealing.ts");
  const made = JSON.parse(readFileSync(new URL("../../tests/shared/records/visit.json", import.meta.url), "utf-8"));
  const head = Buffer.from("302e020100300506032b657004220420", "hex"); // PKCS 8 of RFC 8410, section 7
  const pkcs8 = Buffer.concat([head, Buffer.from(made.seed, "hex")]);
  const key = await crypto.subtle.importKey("pkcs8", pkcs8, "Ed25519", true, ["sign"]);
  const sign = async (bytes) => Buffer.from(await crypto.subtle.sign("Ed25519", key, bytes)).toString("hex");
  const publicKey = Buffer.from((await crypto.subtle.exportKey("jwk", key)).x, "base64url").toString("hex");
  const pack = { record: made.part, parents: made.parents };
  const { visitTable } = await load("card/recording.ts");
  assert.deepEqual(visitTable(made.events), made.visit);
  const { text, digest } = await sealedVisit(pack, made.events.toReversed(), new Date(made.claimed), { publicKey, sign }, made.certificate);
  assert.equal(text, made.sealed);
  assert.equal(digest, made.digest);
});
