/**
 * A visit as a record holds it, made at the door of the device's own events: the same
 * table, word for word, as the desk makes of them.
 */
import type { Plain, Table } from "../record/canonical.ts";
import type { Event, Kind } from "./events.ts";
import { inOrder, setAside, takenBack } from "./folding.ts";

const SECTIONS: Partial<Record<Kind, string>> = {
  started: "started",
  precaution: "precautions",
  as_found: "as_found",
  step: "tests",
  reading: "readings",
  work: "work",
  photo: "photos",
  note: "notes",
  traced: "traced",
  defect: "defects",
  handed_over: "handed_over",
};

/** Sections that are left out where nothing stands in them. */
const NOW_AND_THEN = ["traced"];

/** What the events of a visit come to; there is at least one. */
export function visitTable(events: readonly Event[]): Table {
  const ordered = inOrder(events);
  const back = takenBack(ordered);
  const aside = setAside(ordered.filter((one) => !back.has(one.id)));
  const standing = ordered.filter((one) => !back.has(one.id) && !aside.has(one.id));
  const open = conflicts(standing);
  const counts = counting(standing, open);
  const made: Record<string, Plain[]> = { acts: [], apart: [] };
  for (const name of Object.values(SECTIONS)) made[name] = [];
  for (const event of ordered) {
    if (event.kind === "sealed") continue;
    const why = back.has(event.id) ? "taken back" : aside.has(event.id) ? "set aside" : "";
    const section = SECTIONS[event.kind];
    if (why) made["apart"]?.push({ ...entry(event), kind: event.kind, why });
    else if (section) made[section]?.push({ ...entry(event), counts: counts.has(event.id) });
    else made["acts"]?.push({ ...entry(event), kind: event.kind });
  }
  for (const name of NOW_AND_THEN) if (!made[name]?.length) delete made[name];
  const [{ visit, site, doorway }] = ordered as [Event];
  const people = standing.flatMap((one) => (one.kind === "started" ? [one.said.person] : []));
  return {
    schema: 1,
    visit,
    site,
    doorway,
    people: [...new Set(people)],
    ...made,
    conflicts: open.map(({ about, of, events: told }) => ({ about, of, events: told.map((one) => one.id) })),
    devices: devices(ordered),
  };
}

function entry({ id, device, seq, at, said }: Event): Record<string, Plain> {
  return { id, device, seq, at, said: said as unknown as Plain };
}

interface Conflict {
  about: string;
  of: string;
  events: Event[];
}

/** The last word on each thing that has one; all of what is only listed. */
function counting(standing: readonly Event[], open: readonly Conflict[]): Set<string> {
  const last = new Map<string, string>();
  const listed: string[] = [];
  for (const one of standing) {
    if (one.kind === "step" && open.some((conflict) => conflict.about === "step" && conflict.of === one.said.step)) continue;
    if (one.kind === "handed_over" && open.some((conflict) => conflict.about === "handed_over")) continue;
    if (one.kind === "step" || one.kind === "work") last.set(`${one.kind} ${one.said.step}`, one.id);
    else if (one.kind === "traced") last.set(`traced ${one.said.question}`, one.id);
    else if (one.kind === "started" || one.kind === "handed_over") last.set(one.kind, one.id);
    else listed.push(one.id);
  }
  return new Set([...last.values(), ...listed]);
}

/** What devices say differently of one thing; on one device there is none. */
function conflicts(standing: readonly Event[]): Conflict[] {
  const told = new Map<string, Conflict>();
  for (const one of standing) {
    const thing = thingOf(one);
    if (!thing) continue;
    const key = JSON.stringify(thing.slice(0, 2));
    const conflict = told.get(key) ?? { about: thing[0], of: thing[1], events: [] };
    conflict.events.push(one);
    told.set(key, conflict);
  }
  return [...told.values()].filter(({ events }) => {
    const last = new Map(events.map((one) => [one.device, thingOf(one)?.[2]]));
    return new Set(last.values()).size > 1;
  });
}

/** What an event speaks of, and what it says of it. */
function thingOf(one: Event): [about: string, of: string, says: string] | null {
  if (one.kind === "step") return ["step", one.said.step, one.said.answer];
  if (one.kind === "handed_over") return ["handed_over", "", one.said.state];
  if ((one.kind === "as_found" || one.kind === "reading") && "key" in one.said) return [one.kind, one.said.key, one.said.value];
  return null;
}

function devices(ordered: readonly Event[]): Plain[] {
  const numbers = new Map<string, number[]>();
  for (const one of ordered) numbers.set(one.device, [...(numbers.get(one.device) ?? []), one.seq]);
  return [...numbers].sort(([one], [other]) => (one < other ? -1 : 1)).map(([device, seqs]) => {
    const known = seqs.sort((a, b) => a - b);
    const gaps = known.flatMap((seq, at) => {
      const before = known[at - 1];
      return before !== undefined && seq > before + 1 ? [[before + 1, seq - 1]] : [];
    });
    return { device, first: known[0] ?? 0, last: known.at(-1) ?? 0, not_here: gaps };
  });
}
