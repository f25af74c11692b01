/**
 * What is to be done, what is done, and what comes next: precautions first, what was
 * found before a screw is touched, the work, the tests that are never left out, the
 * further places as long as there is time, the hand-over.
 */
import { owedByChange } from "./change.ts";
import type { Event } from "./events.ts";
import type { Visit } from "./folding.ts";
import { causesOf, type Pack, type Test, type Work } from "./pack.ts";
import type { Reason } from "./scoring.ts";
import { mended, standing, TRACE, toTrace } from "./suspecting.ts";

export const BARRIER = "barrier";
export const AS_FOUND = "as_found";

export type Mark = "to do" | "done" | "good" | "touched" | "lamp only" | "cannot" | "again";

export type Part = "start" | "precaution" | "as_found" | "trace" | "work" | "after" | "test" | "place" | "hand_over" | "seal";

export interface Line {
  readonly part: Part;
  readonly id: string;
  readonly title: string;
  readonly mark: Mark;
  /** Whether the visit asks for it; else it is there to be used where it is wanted. */
  readonly asked: boolean;
  /** Whether it is a test that is owed because something changed. */
  readonly changed?: boolean;
}

/** A place that tells most now, and why. */
export interface Pick {
  readonly id: string;
  readonly because: Reason;
  /** Places still in doubt, and those that were at first. */
  readonly left: number;
  readonly of: number;
}

/** What chooses the next place: tests that may be chosen, by what is known so far. */
export type Picking = (visit: Visit, among: readonly Test[]) => Pick | null;

export interface Next {
  readonly part: Part;
  readonly id: string;
  readonly why: "first" | "minimum" | "again" | "changed" | "place" | "work" | "as_found" | "trace" | "done" | "start";
  /** Where a place was picked: why, and how many are left. */
  readonly pick: Pick | null;
}

/** Everything of a visit, in the order in which it is best done. */
export function lines(pack: Pack, visit: Visit, title: (part: Part) => string): Line[] {
  const owed = owedAgain(pack, visit);
  const changed = owedByChange(pack, visit);
  const found = visit.started?.found;
  const test = (one: Test, part: Part, asked: boolean): Line => ({
    part,
    id: one.id,
    title: one.title,
    mark: owed.has(one.id) ? "again" : markOf(visit, one.id),
    asked: asked || owed.has(one.id) || changed.has(one.id),
    changed: changed.has(one.id),
  });
  const work = (one: Work): Line => ({
    part: one.after ? "after" : "work",
    id: one.id,
    title: one.title,
    mark: learnsAgain(visit, one.id) ? "again" : visit.work.has(one.id) ? "done" : "to do",
    asked: workIsAsked(visit, one),
  });
  const single = (part: Part, id: string, mark: Mark, asked = true): Line => ({ part, id, title: title(part), mark, asked });
  return [
    single("start", "start", visit.started ? "done" : "to do"),
    single("precaution", BARRIER, visit.precautions.has(BARRIER) ? "done" : "to do"),
    single("as_found", AS_FOUND, foundMark(visit), found !== "new"),
    ...(pack.trace ? [single("trace", TRACE, traceMark(visit), found === "called out")] : []),
    ...pack.work.filter((one) => !one.after).map(work),
    ...minimum(pack).map((one) => test(one, "test", !pack.change?.only)),
    ...further(pack).map((one) => test(one, "place", false)),
    ...pack.work.filter((one) => one.after).map(work),
    single("hand_over", "hand_over", visit.handed ? "done" : "to do"),
    single("seal", "seal", visit.sealed ? "done" : "to do"),
  ];
}

/** The one thing to do now. */
export function next(pack: Pack, visit: Visit, pick: Picking): Next {
  const at = (part: Part, id: string, why: Next["why"], pick: Pick | null = null): Next => ({ part, id, why, pick });
  if (!visit.started) return at("start", "start", "start");
  if (!visit.precautions.has(BARRIER)) return at("precaution", BARRIER, "first");
  if (visit.started.found !== "new" && foundMark(visit) === "to do") return at("as_found", AS_FOUND, "as_found");
  // Where somebody was struck nothing is turned and nothing tested.
  if (standing(visit) === "struck") return visit.handed ? at("seal", "seal", "done") : at("hand_over", "hand_over", "done");
  if (toTrace(pack, visit)) return at("trace", TRACE, "trace");
  const work = pack.work.find((one) => !one.after && workIsOwed(visit, one));
  if (work) return at("work", work.id, "work");
  const owed = owedAgain(pack, visit);
  const again = pack.tests.find((one) => owed.has(one.id));
  if (again) return at(again.minimum ? "test" : "place", again.id, "again");
  const changed = openByChange(pack, visit)[0];
  const owes = changed && at(changed.minimum ? "test" : "place", changed.id, "changed");
  if (owes && changedFirst(pack, visit)) return owes;
  const least = pack.change?.only ? undefined : minimum(pack).find((one) => !visit.answers.has(one.id));
  if (least) return at("test", least.id, "minimum");
  if (owes) return owes;
  const picked = pick(visit, withinBudget(pack, visit));
  if (picked) return at("place", picked.id, "place", picked);
  const after = pack.work.find((one) => one.after && workIsOwed(visit, one));
  if (after) return at("after", after.id, "work");
  if (!visit.handed) return at("hand_over", "hand_over", "done");
  return at("seal", "seal", "done");
}

/** Steps done and steps in all, as far as it can be said now. */
export function progress(pack: Pack, visit: Visit): { done: number; of: number } {
  const asked = lines(pack, visit, () => "").filter((one) => one.asked && !["start", "seal"].includes(one.part));
  const places = placesDone(pack, visit);
  const open = openByChange(pack, visit).filter((one) => !one.minimum);
  const done = asked.filter((one) => one.part !== "place" && settled(one.mark)).length;
  const of = asked.filter((one) => one.part !== "place").length;
  return { done: done + places.length, of: of + Math.max(places.length + open.length, placesPlanned(pack, visit)) };
}

/** Tests that are owed because something changed, and not made yet, in the card's order. */
function openByChange(pack: Pack, visit: Visit): Test[] {
  const owed = owedByChange(pack, visit);
  return pack.tests.filter((one) => owed.has(one.id) && !visit.answers.has(one.id));
}

/** Whether what changed is tested before all else: who came for one thing tests that first. */
function changedFirst(pack: Pack, visit: Visit): boolean {
  const started = visit.started;
  return !!pack.change?.only || started?.budget === "after repair" || started?.found === "called out";
}

export function settled(mark: Mark): boolean {
  return mark !== "to do" && mark !== "again";
}

export function markOf(visit: Visit, test: string): Mark {
  const answer = visit.answers.get(test)?.said.answer;
  return answer === undefined ? "to do" : answer === "stayed open" ? "good" : answer;
}

/** Tests whose answer is older than something that was turned because of them. */
export function owedAgain(pack: Pack, visit: Visit): Set<string> {
  const owed = new Set<string>();
  const older = (id: string, turned: Event): boolean => {
    const answer = visit.answers.get(id);
    return !answer || placeIn(visit, answer) < placeIn(visit, turned);
  };
  for (const { done, again } of mended(pack, visit)) for (const id of again) if (older(id, done)) owed.add(id);
  for (const test of pack.tests) {
    causesOf(pack, test).forEach((cause, number) => {
      const turned = visit.work.get(causeId(test.id, number));
      if (!turned) return;
      for (const id of new Set([test.id, ...cause.again])) if (older(id, turned)) owed.add(id);
    });
    const turned = rowsTurned(visit);
    if (test.place && turned && visit.answers.has(test.id) && older(test.id, turned)) owed.add(test.id);
  }
  return new Set(pack.tests.filter((one) => owed.has(one.id)).map((one) => one.id));
}

/** Work after which rows lie elsewhere: what was tested of them before no longer counts. */
const ROWS = ["mount", "aim", "widths"];
const LEARN = "learn";

function rowsTurned(visit: Visit): Event | undefined {
  const turned = ROWS.map((id) => visit.work.get(id)).filter((one) => one !== undefined);
  return turned.sort((one, other) => placeIn(visit, other) - placeIn(visit, one))[0];
}

/** Whether the unit is to learn its floor again: rows were turned since. */
function learnsAgain(visit: Visit, id: string): boolean {
  const [turned, learned] = [rowsTurned(visit), visit.work.get(LEARN)];
  return id === LEARN && !!turned && (!learned || placeIn(visit, learned) < placeIn(visit, turned));
}

function placeIn(visit: Visit, event: Event): number {
  return visit.standing.indexOf(event);
}

/** By what the work on one cause of a failed test is named. */
export function causeId(test: string, number: number): string {
  return `${test}.cause${number + 1}`;
}

/** Further places that there is still time for: in the visit's number and minutes. */
export function withinBudget(pack: Pack, visit: Visit): Test[] {
  if (!visit.started || pack.change?.only) return [];
  const budget = pack.budgets[visit.started.budget];
  const done = placesDone(pack, visit);
  const used = done.reduce((sum, one) => sum + one.minutes, 0);
  if (done.length >= budget.steps) return [];
  return further(pack).filter((one) => !visit.answers.has(one.id) && used + one.minutes <= budget.minutes + 1e-9);
}

export function minimum(pack: Pack): Test[] {
  return pack.tests.filter((one) => one.minimum);
}

export function further(pack: Pack): Test[] {
  return pack.tests.filter((one) => !one.minimum);
}

function placesDone(pack: Pack, visit: Visit): Test[] {
  return further(pack).filter((one) => visit.answers.has(one.id));
}

/** How many places the budget lets be tried, those done among them. */
function placesPlanned(pack: Pack, visit: Visit): number {
  if (!visit.started || pack.change?.only) return 0;
  const budget = pack.budgets[visit.started.budget];
  const done = placesDone(pack, visit);
  let minutes = budget.minutes - done.reduce((sum, one) => sum + one.minutes, 0);
  let planned = done.length;
  const open = further(pack).filter((one) => !visit.answers.has(one.id));
  for (const one of open.sort((a, b) => a.minutes - b.minutes)) {
    if (planned >= budget.steps || one.minutes > minutes + 1e-9) break;
    planned += 1;
    minutes -= one.minutes;
  }
  return planned;
}

function workIsAsked(visit: Visit, one: Work): boolean {
  return !!visit.started && (one.found.includes(visit.started.found) || learnsAgain(visit, one.id));
}

function workIsOwed(visit: Visit, one: Work): boolean {
  return workIsAsked(visit, one) && (!visit.work.has(one.id) || learnsAgain(visit, one.id));
}

/** Asked until a cause was taken and mended; or left, or none was found. */
function traceMark(visit: Visit): Mark {
  const now = standing(visit);
  return now === "ask" || now === "taken" ? "to do" : now === "left" || now === "none" ? "cannot" : "done";
}

/** Read before a screw was touched; or not, and said why. */
function foundMark(visit: Visit): Mark {
  if (visit.asFound.length) return "done";
  return visit.answers.has(AS_FOUND) ? "cannot" : "to do";
}
