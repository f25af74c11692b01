/** What is dropped on the check of seals is known by what stands in it. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { deflateSync } from "node:zlib";

import { load } from "./loading.js";

const { firmIn, kindOf, looksSealed } = await load("verify/kinds.ts");
const { carriedIn } = await load("verify/carried.ts");
const { filled, grouped, stateOf, typedDigest } = await load("verify/telling.ts");
const { digestOf } = await load("record/signing.ts");

const CASES = JSON.parse(readFileSync(new URL("../../tests/shared/seals.json", import.meta.url), "utf8"));
const bytes = (text) => new Uint8Array(Buffer.from(text, "base64"));
const words = (text) => new TextEncoder().encode(text);
const named = (name) => bytes(CASES.find((one) => one.name === name).file);
const FIRM = "03a107bff3ce10be1d70dd18e74bc09967e4d6309ba50d5f1ddc8664125531b8";

test("a file is what stands in it", () => {
  assert.equal(kindOf(named("as it was sealed")), "record");
  assert.equal(kindOf(named("one letter")), "record");
  assert.equal(kindOf(named("a sealed page")), "record");
  assert.equal(kindOf(named("a certificate")), "certificate");
  assert.equal(kindOf(named("a withdrawal")), "withdrawal");
  assert.equal(kindOf(named("nothing")), "record");
  assert.equal(kindOf(words(`# Weir & Söhne\r\n${FIRM}\r\n`)), "firm");
});

test("a key file holds one key in a line of its own", () => {
  assert.deepEqual(firmIn(words(`# Weir & Söhne\n${FIRM}\n`)), { key: FIRM, name: "Weir & Söhne" });
  assert.deepEqual(firmIn(words(FIRM)), { key: FIRM, name: "" });
  const other = "29acbae141bccaf0b22e1a94d34d0bc7361e526d0bfe12c89794bc9322966dd7";
  for (const text of [`${FIRM}\n${other}`, `key ${FIRM}`, FIRM.toUpperCase(), FIRM.slice(1), "0".repeat(64)]) {
    assert.equal(firmIn(words(text)), null, text);
  }
});

test("what was a sealed file once is changed, not unusable", () => {
  const found = { unchanged: false, where: "form", signer: null, record: null, digest: "" };
  assert.equal(stateOf(found, true), "changed");
  assert.equal(stateOf(found, false), "unusable");
  assert.equal(stateOf({ ...found, where: "seal" }, false), "changed");
  assert.equal(stateOf({ ...found, where: "size" }, true), "unusable");
  assert.equal(looksSealed(named("a line more")), true);
  assert.equal(looksSealed(named("a page with more at its end")), true);
  assert.equal(looksSealed(named("a page without a seal")), false);
});

test("a digest is read as it was typed, scanned or read out", () => {
  const digest = "262f50cd7f0eb179a4d24259e9b321b16f71c1df4bec215d3450a08cb3b2a8f8";
  assert.equal(typedDigest(`LIMEN ${digest.toUpperCase()} x`), digest);
  assert.equal(typedDigest(grouped(digest)), digest);
  assert.equal(typedDigest("262F 50cd-7f0e"), "262f50cd7f0e");
  assert.equal(grouped("123456789"), "1234 5678 9");
});

test("a sentence keeps a gap that nothing fills, and takes what fills it as it is", () => {
  assert.equal(filled("{a} of {b}", { a: "$& {b}" }), "$& {b} of {b}");
});

const page = (head, body) => new Uint8Array(Buffer.concat([Buffer.from(`%PDF-1.7\n5 0 obj\n<< ${head} >>\nstream\n`), body, Buffer.from("\nendstream\nendobj\n")]));

test("the record inside a PDF is found, packed or not", async () => {
  const record = Buffer.from(named("as it was sealed"));
  const digest = await digestOf(new Uint8Array(record));
  const packed = deflateSync(record);
  for (const file of [
    page(`/Type /EmbeddedFile /Length ${record.length}`, record),
    page(`/Length ${packed.length} /Filter /FlateDecode /Type/EmbeddedFile`, packed),
    page("/Type /EmbeddedFile /Length 7 0 R /Filter /FlateDecode", packed),
  ]) {
    const found = await carriedIn(file);
    assert.equal(found?.digest, digest);
    assert.equal(found?.record.number, "main-0007");
  }
  assert.equal(await carriedIn(page("/Type /EmbeddedFile", Buffer.from("no record"))), null);
  assert.equal(await carriedIn(page("/Type /XObject", record)), null);
  assert.equal(await carriedIn(page("/Type /EmbeddedFile /Filter /FlateDecode", record)), null);
  assert.equal(await carriedIn(new Uint8Array()), null);
});
