/** A visit is what its events say together, whatever order they came in. */
import type { Draft, Event, Kind, Says } from "./events.ts";

export type OfKind<K extends Kind> = Extract<Event, { kind: K }>;

export interface Visit {
  readonly started: Says["started"] | null;
  /** Every event that stands, in order. */
  readonly standing: readonly Event[];
  /** Precautions taken, by step. */
  readonly precautions: ReadonlySet<string>;
  /** The last answer that stands, by test. */
  readonly answers: ReadonlyMap<string, OfKind<"step">>;
  /** The last mark that stands, by step of the work. */
  readonly work: ReadonlyMap<string, OfKind<"work">>;
  readonly asFound: readonly OfKind<"as_found">[];
  readonly readings: readonly OfKind<"reading">[];
  readonly photos: readonly OfKind<"photo">[];
  readonly notes: readonly OfKind<"note">[];
  /** The last answer to the fault finder that stands, by question. */
  readonly traced: ReadonlyMap<string, OfKind<"traced">>;
  readonly defects: readonly OfKind<"defect">[];
  readonly handed: OfKind<"handed_over"> | null;
  readonly sealed: OfKind<"sealed"> | null;
}

export function fold(events: readonly Event[]): Visit {
  const ordered = inOrder(events);
  const back = takenBack(ordered);
  const left = ordered.filter((one) => !back.has(one.id));
  const aside = setAside(left);
  const standing = left.filter((one) => !aside.has(one.id) && one.kind !== "undone" && one.kind !== "settled");
  const all = <K extends Kind>(kind: K) => standing.filter((one): one is OfKind<K> => one.kind === kind);
  return {
    started: all("started").at(-1)?.said ?? null,
    standing,
    precautions: new Set(all("precaution").map((one) => one.said.step)),
    answers: new Map(all("step").map((one) => [one.said.step, one])),
    work: new Map(all("work").map((one) => [one.said.step, one])),
    asFound: all("as_found"),
    readings: all("reading"),
    photos: all("photo"),
    notes: all("note"),
    traced: new Map(all("traced").map((one) => [one.said.question, one])),
    defects: all("defect"),
    handed: all("handed_over").at(-1) ?? null,
    sealed: all("sealed").at(-1) ?? null,
  };
}

/**
 * Each device's own events by number; devices among each other by the time they claim,
 * at the same time by the device's name. The same event twice counts once.
 */
export function inOrder(events: readonly Event[]): Event[] {
  const once = new Map(events.map((one) => [one.id, one]));
  const lines = new Map<string, Event[]>();
  for (const one of [...once.values()].sort((a, b) => a.seq - b.seq)) {
    lines.set(one.device, [...(lines.get(one.device) ?? []), one]);
  }
  const waiting = [...lines.values()];
  const ordered: Event[] = [];
  while (waiting.some((line) => line.length)) {
    const first = waiting.filter((line) => line.length).reduce((one, other) => (before(other, one) ? other : one));
    ordered.push(first.shift() as Event);
  }
  return ordered;
}

function before([one]: readonly Event[], [other]: readonly Event[]): boolean {
  const [a, b] = [one as Event, other as Event];
  const [at, then] = [Date.parse(a.at), Date.parse(b.at)];
  return at === then ? a.device < b.device : at < then;
}

/** Ids of events that something takes back that was not taken back itself. */
export function takenBack(ordered: readonly Event[]): Set<string> {
  const backs = new Map<string, string[]>();
  for (const one of ordered) {
    if (one.kind === "undone") backs.set(one.said.event, [...(backs.get(one.said.event) ?? []), one.id]);
  }
  const known = new Map<string, boolean>();
  const gone = (id: string): boolean => {
    const before = known.get(id);
    if (before !== undefined) return before;
    known.set(id, false); // nobody can tap a ring; if one is made, it takes nothing back
    const now = (backs.get(id) ?? []).some((back) => !gone(back));
    known.set(id, now);
    return now;
  };
  return new Set(ordered.filter((one) => gone(one.id)).map((one) => one.id));
}

/** Ids of events against which a person chose, by the last choice that speaks of each. */
export function setAside(left: readonly Event[]): Set<string> {
  const stands = new Map<string, string>();
  for (const one of left) {
    if (one.kind === "settled") for (const id of one.said.between) stands.set(id, one.said.stands);
  }
  return new Set(left.filter((one) => (stands.get(one.id) ?? one.id) !== one.id).map((one) => one.id));
}

/** What takes an event back. */
export function takingBack(event: Event): Draft {
  return { kind: "undone", said: { event: event.id } };
}
