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
  readonly defects: readonly OfKind<"defect">[];
  readonly handed: OfKind<"handed_over"> | null;
  readonly sealed: OfKind<"sealed"> | null;
}

export function fold(events: readonly Event[]): Visit {
  const standing = settledOf(standingOf(inOrder(events)));
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
  return a.at === b.at ? a.device < b.device : a.at < b.at;
}

/** Those that nobody took back; what is taken back takes nothing back itself. */
function standingOf(ordered: readonly Event[]): Event[] {
  const gone = new Set<string>();
  for (const one of ordered.toReversed()) {
    if (one.kind === "undone" && !gone.has(one.id)) gone.add(one.said.event);
  }
  return ordered.filter((one) => !gone.has(one.id));
}

/** Where two said different things and a person chose, only what was chosen. */
function settledOf(standing: readonly Event[]): Event[] {
  const gone = new Set<string>();
  for (const one of standing) {
    if (one.kind !== "settled") continue;
    for (const id of one.said.between) if (id !== one.said.stands) gone.add(id);
  }
  return standing.filter((one) => !gone.has(one.id) && one.kind !== "undone" && one.kind !== "settled");
}

/** What takes an event back. */
export function takingBack(event: Event): Draft {
  return { kind: "undone", said: { event: event.id } };
}
