/** Which further place tells most a minute, by what was answered so far. */
import type { Visit } from "./folding.ts";
import type { Pack, Test } from "./pack.ts";
import { known, suggested, type Answer, type Known } from "./scoring.ts";
import type { Pick, Picking } from "./steps.ts";

/** Unpacked once a pack: the same guess is asked after every answer. */
const unpacked = new WeakMap<Pack, Known>();

export function picking(pack: Pack): Picking {
  return (visit: Visit, among: readonly Test[]): Pick | null => {
    const all = knownOf(pack);
    const number = new Map(pack.tests.map((one, at) => [one.id, at]));
    const may = among.map((one) => number.get(one.id) as number).filter((at) => all.reached[at]);
    if (!may.length) return null;
    const { test, why, left, of } = suggested(all, answersOf(pack, visit), may);
    const chosen = test === null ? undefined : pack.tests[test];
    return chosen ? { id: chosen.id, because: why, left, of } : null;
  };
}

/** What was answered, for the tests that tell of beams; what cannot be tested tells nothing. */
export function answersOf(pack: Pack, visit: Visit): Answer[] {
  return pack.tests.flatMap((one, test) => {
    const said = visit.answers.get(one.id)?.said;
    if (!said || said.answer === "cannot") return [];
    return [{ test, good: said.answer !== "touched", tool: said.tool ?? "body" }];
  });
}

function knownOf(pack: Pack): Known {
  const before = unpacked.get(pack);
  if (before) return before;
  const made = known(pack.guess, pack.tests.map((one) => one.minutes));
  unpacked.set(pack, made);
  return made;
}
