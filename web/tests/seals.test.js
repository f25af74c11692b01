/** A seal is checked in the page as at the desk: published vectors, shared files, every byte. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { load } from "./loading.js";

const { canonical, read } = await load("record/canonical.ts");
const { digestOf, newPair, signed, signing } = await load("record/signing.ts");
const { sealRecord } = await load("record/sealing.ts");
const { trusted, verifyBytes } = await load("record/verifying.ts");
const { chained, parentsOf } = await load("record/chain.ts");

const CASES = JSON.parse(readFileSync(new URL("../../tests/shared/seals.json", import.meta.url), "utf8"));
const bytes = (text) => new Uint8Array(Buffer.from(text, "base64"));
const hex = (digits) => new Uint8Array(Buffer.from(digits, "hex"));
const words = (text) => new TextEncoder().encode(text);
const text = (of) => new TextDecoder().decode(of);

// RFC 8785 (2020), appendix B: a double by its digits, and how it is written.
const APPENDIX_B = {
  "0000000000000000": "0",
  "8000000000000000": "0",
  "0000000000000001": "5e-324",
  "8000000000000001": "-5e-324",
  "7fefffffffffffff": "1.7976931348623157e+308",
  "4340000000000000": "9007199254740992",
  c340000000000000: "-9007199254740992",
  "4430000000000000": "295147905179352830000",
  "44b52d02c7e14af5": "9.999999999999997e+22",
  "44b52d02c7e14af6": "1e+23",
  "444b1ae4d6e2ef50": "1e+21",
  "3eb0c6f7a0b5ed8c": "9.999999999999997e-7",
  "3eb0c6f7a0b5ed8d": "0.000001",
  "41b3de4355555553": "333333333.3333332",
  becbf647612f3696: "-0.0000033333333333333333",
  "43143ff3c1cb0959": "1424953923781206.2",
};

test("numbers are written as in appendix B of RFC 8785", () => {
  for (const [digits, written] of Object.entries(APPENDIX_B)) {
    assert.equal(text(canonical([Buffer.from(digits, "hex").readDoubleBE()])), `[${written}]`);
  }
});

test("what is no number, no character or no plain value has no text", () => {
  for (const value of [NaN, Infinity, -Infinity, "\ud800", "\udc00\ud800", undefined, 1n, () => 1]) {
    assert.throws(() => canonical([value]));
    assert.throws(() => canonical({ value }));
  }
  assert.throws(() => canonical({ "\udfff": 1 }));
});

test("keys stand in the order of their UTF-16 units, as RFC 8785, 3.2.3, says", () => {
  const keys = { "\ufb33": 3, "\u{1f600}": 2, "\u20ac": 1 };
  assert.equal(text(canonical(keys)), '{"\u20ac":1,"\u{1f600}":2,"\ufb33":3}');
});

test("words are written as RFC 8785, 3.2.2.2, says", () => {
  assert.equal(text(canonical({ a: "\u20ac$\u000f\nA'B\"\\\\\"/" })), '{"a":"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}');
});

test("a key may be called like a part of every table", () => {
  const said = '{"__proto__":{"a":1},"constructor":2}';
  assert.equal(text(canonical(read(words(said)))), said);
});

// RFC 8032 (2017), 7.1, tests 1 to 3: key, message, signature.
const SECTION_7_1 = [
  [
    "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
    "",
    "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
  ],
  [
    "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
    "72",
    "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
  ],
  [
    "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
    "af82",
    "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
  ],
];
const ORDER = 2n ** 252n + 27742317777372353535851937790883648493n; // RFC 8032, 5.1

test("signatures are checked as in 7.1 of RFC 8032", async () => {
  for (const [key, message, signature] of SECTION_7_1) {
    assert.equal(await signed(key, signature, hex(message)), true);
    assert.equal(await signed(key, signature, hex(`${message}00`)), false);
    assert.equal(await signed(key, signature.toUpperCase(), hex(message)), false);
  }
});

test("a signature's second half not below the group's order is refused, RFC 8032, 5.1.7", async () => {
  const [key, message, signature] = SECTION_7_1[1];
  const half = BigInt(`0x${Buffer.from(signature.slice(64), "hex").reverse().toString("hex")}`) + ORDER;
  const other = Buffer.from(half.toString(16).padStart(64, "0"), "hex").reverse().toString("hex");
  assert.equal(await signed(key, signature.slice(0, 64) + other, hex(message)), false);
});

test("what is no key signs nothing", async () => {
  const [, message, signature] = SECTION_7_1[0];
  for (const key of ["", "00", "f".repeat(64), "0".repeat(64), "g".repeat(64)]) {
    assert.equal(await signed(key, signature, hex(message)), false);
  }
});

// FIPS 180-4 (2015), its examples: "abc", and two blocks.
test("digests are those of the examples of FIPS 180-4", async () => {
  assert.equal(await digestOf(words("abc")), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  assert.equal(
    await digestOf(words("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")),
    "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
  );
});

for (const one of CASES) {
  test(`as at the desk: ${one.name}`, async () => {
    const found = await verifyBytes(bytes(one.file), { firms: one.firms, withdrawn: one.withdrawn.map(bytes) });
    assert.equal(found.unchanged, one.unchanged);
    if (one.where) assert.equal(found.where, one.where);
    assert.equal(found.signer ? trusted(found.signer) : null, one.trusted);
  });
}

const named = (name) => bytes(CASES.find((one) => one.name === name).file);

for (const name of ["as it was sealed", "a sealed page"]) {
  test(`every byte counts: ${name}`, async () => {
    const file = named(name);
    assert.equal((await verifyBytes(file)).unchanged, true);
    for (let at = 0; at < file.length; at += 1) {
      for (const bit of [1, 0x20, 0x80]) {
        const other = file.slice();
        other[at] ^= bit;
        assert.equal((await verifyBytes(other)).unchanged, false, `byte ${at}, bit ${bit}`);
      }
      const less = new Uint8Array([...file.subarray(0, at), ...file.subarray(at + 1)]);
      assert.equal((await verifyBytes(less)).unchanged, false, `without byte ${at}`);
    }
    for (const more of ["\n", " ", "\0", "%%EOF", "startxref\n0\n%%EOF\n"]) {
      assert.equal((await verifyBytes(new Uint8Array([...file, ...words(more)]))).unchanged, false);
      assert.equal((await verifyBytes(new Uint8Array([...words(more), ...file]))).unchanged, false);
    }
  });
}

test("what the page seals it finds unchanged, but for a certificate of its own key", async () => {
  const key = await signing(await newPair());
  const record = { number: "main-0008", at: 0.54, parents: [], said: "–" };
  const found = await verifyBytes(await sealRecord(record, key, JSON.parse(text(named("as it was sealed"))).record.by));
  assert.deepEqual([found.unchanged, found.where], [false, "certificate"]);
  const plain = text(await sealRecord(record, key, ""));
  assert.ok(plain.startsWith('{"record":{"at":0.54,"by":"","number":"main-0008","parents":[],"said":"–"},"seal":"'));
});

test("a key made by the page cannot be read", async () => {
  const pair = await newPair();
  await assert.rejects(crypto.subtle.exportKey("pkcs8", pair.privateKey));
});

test("records say which of them are missing and which are last", () => {
  const door = new Map(Object.entries({ b: ["a"], c: ["a"], d: ["b", "x"] }));
  assert.deepEqual(chained(door), { heads: ["c", "d"], missing: ["a", "x"] });
  assert.deepEqual(parentsOf({ parents: ["a", 7, "b"] }), ["a", "b"]);
  assert.deepEqual(parentsOf({ parents: "a" }), []);
});
