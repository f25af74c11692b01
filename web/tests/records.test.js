/** A phone makes and checks the records that the desk makes and checks, byte for byte. */
import assert from "node:assert/strict";
import { createPrivateKey, sign } from "node:crypto";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { load } from "./loading.js";

const { visitTable } = await load("card/recording.ts");
const { canonical } = await load("record/canonical.ts");
const { sealRecord } = await load("record/sealing.ts");
const { digestOf } = await load("record/signing.ts");
const { verifyBytes } = await load("record/verifying.ts");
const { looksSealed } = await load("verify/kinds.ts");
const { stateOf } = await load("verify/telling.ts");

const shared = (name) => JSON.parse(readFileSync(new URL(`../../tests/shared/records/${name}`, import.meta.url), "utf8"));
const words = (text) => new TextEncoder().encode(text);
const text = (of) => new TextDecoder().decode(of);
const ONE = shared("visit.json");
const PKCS8 = "302e020100300506032b657004220420"; // RFC 8410, 10.3: what stands before a seed

/** The device's key from its seed; in a browser its private half is never seen. */
function device(seed) {
  const key = createPrivateKey({ key: Buffer.from(PKCS8 + seed, "hex"), format: "der", type: "pkcs8" });
  const of = JSON.parse(JSON.parse(ONE.sealed).record.by).record.device;
  return { publicKey: of, sign: async (message) => sign(null, message, key).toString("hex") };
}

test("events come to the same visit as at the desk", () => {
  assert.equal(text(canonical(visitTable(ONE.events))), text(canonical(ONE.visit)));
});

test("in whatever order they are given", () => {
  assert.deepEqual(visitTable(ONE.events.toReversed()), visitTable(ONE.events));
});

test("a record is sealed to the same bytes as at the desk", async () => {
  const record = { ...ONE.part, claimed: ONE.claimed, parents: ONE.parents.toSorted(), visit: visitTable(ONE.events) };
  const sealed = await sealRecord(record, device(ONE.seed), ONE.certificate);
  assert.equal(text(sealed), ONE.sealed);
  assert.equal(await digestOf(sealed), ONE.digest);
});

for (const one of shared("checks.json")) {
  test(`found of a record ${one.name}`, async () => {
    const file = words(one.file);
    const found = await verifyBytes(file, { firms: one.firms, withdrawn: one.withdrawn.map(words) });
    assert.equal(found.unchanged, one.unchanged);
    assert.equal(found.where, one.where);
    assert.equal(stateOf(found, looksSealed(file)), one.state);
  });
}
