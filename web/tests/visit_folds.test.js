/** What the card makes of a visit, to be sealed at the door, is what the desk makes. */
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { load } from "./loading.js";

const { visitTable } = await load("card/recording.ts");
const shared = JSON.parse(readFileSync(new URL("../../tests/shared/visit_folds.json", import.meta.url), "utf8"));

for (const { name, events, folded } of shared) {
  test(`what events come to is the same here and at the desk: ${name}`, () => {
    assert.deepEqual(visitTable(events), folded);
    assert.deepEqual(visitTable(events.toReversed()), folded);
  });
}
