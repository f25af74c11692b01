/** Where a visit stands with the fault finder, by what was answered at the door. */
import type { Event } from "./events.ts";
import type { Visit } from "./folding.ts";
import type { Pack } from "./pack.ts";
import { CAUSE, MUTE, NONE, STRUCK, SYMPTOM, type Answers } from "./tracing.ts";

export const TRACE = "trace";

/**
 * Asking goes on; a cause was taken and waits for its work; that is done; none fits;
 * it was left for later; or somebody was struck, and nothing is looked for.
 */
export type Standing = "ask" | "taken" | "done" | "none" | "left" | "struck";

export function standing(visit: Visit): Standing {
  if (visit.traced.get(SYMPTOM)?.said.answer === STRUCK) return "struck";
  const cause = visit.traced.get(CAUSE)?.said.answer;
  if (cause === "unknown") return "left";
  if (cause === undefined || MUTE.has(cause)) return "ask";
  if (cause === NONE) return "none";
  return visit.work.has(workOn(cause)) ? "done" : "taken";
}

/** What was answered, but for what was taken to be the cause. */
export function answered(visit: Visit): Answers {
  const told = [...visit.traced].map(([question, one]) => [question, one.said.answer] as const);
  return new Map(told.filter(([question]) => question !== CAUSE));
}

/** Whether the finder is what comes next: asked, or a cause waits for its work. */
export function toTrace(pack: Pack, visit: Visit): boolean {
  return !!pack.trace && visit.started?.found === "called out" && ["ask", "taken"].includes(standing(visit));
}

/** By what the work on a cause is named. */
export function workOn(cause: string): string {
  return `${TRACE}.${cause}`;
}

/** Work on causes that was done, each with the tests that are owed after it. */
export function mended(pack: Pack, visit: Visit): { done: Event; again: readonly string[] }[] {
  return (pack.trace?.causes ?? []).flatMap(({ id, again }) => {
    const done = visit.work.get(workOn(id));
    return done ? [{ done, again }] : [];
  });
}
