/**
 * Why a door misbehaves: causes by what was answered, and the question that tells most a
 * minute. The same arithmetic as `limen.keep.tracing`; both are held to the same vectors.
 * Nothing of its figures is shown.
 */

/** A question that fits the doorway; `usual` by answer, in parts of a hundred. */
export interface Asking {
  readonly id: string;
  readonly minutes: number;
  readonly usual: Readonly<Record<string, number>>;
  readonly ladder?: boolean;
  readonly barrier?: boolean;
  readonly first?: number;
}

/** A cause; `told` counts by question while that is not answered. */
export interface Cause {
  readonly id: string;
  readonly weight: number;
  readonly told?: Readonly<Record<string, number>>;
  readonly says: Says;
  readonly pictures?: readonly Picture[];
}

/** By question the shares of its answers. */
type Says = Readonly<Record<string, Readonly<Record<string, number>>>>;

/** One of the ways in which a cause shows itself; it says what is otherwise in it. */
export interface Picture {
  readonly share: number;
  readonly says: Says;
}

export interface Tables<A extends Asking = Asking, C extends Cause = Cause> {
  /** Minutes to be up on one, paid once. */
  readonly ladder: number;
  /** From where a cause counts as found. */
  readonly known: number;
  /** Bits a minute below which a question is not worth its time. */
  readonly enough: number;
  /** Minutes of a look that is cheap, without ladder and barrier. */
  readonly glance: number;
  /** How likely a cheap look has to be to speak against a cause, to come before its name. */
  readonly upset: number;
  /** Share of answers that are mistaken. */
  readonly slip: number;
  readonly questions: readonly A[];
  readonly causes: readonly C[];
}

export type Answers = ReadonlyMap<string, string>;

export interface Following {
  readonly question: string;
  readonly minutes: number;
  /** The two causes that it tells apart best, the likelier first. */
  readonly parts: readonly [string, string];
  readonly first: boolean;
}

export interface Traced {
  /** Every cause, the likeliest first. */
  readonly ranked: readonly { readonly cause: string; readonly p: number }[];
  readonly next: Following | null;
  readonly found: string | null;
  readonly struck: boolean;
}

export const SYMPTOM = "does";
export const STRUCK = "struck";
export const NONE = "none_of_these";
/** Not asked like the others: what a person takes to be the cause. */
export const CAUSE = "cause";
/** Answers that tell nothing of the cause. */
export const MUTE: ReadonlySet<string> = new Set(["unknown", "neither"]);
const ALIKE = 1e-12; // figures closer than this are alike: what stands first in the tables comes first

export function trace(tables: Tables, answers: Answers): Traced {
  if (answers.get(SYMPTOM) === STRUCK) return { ranked: [], next: null, found: null, struck: true };
  const shown = shownOf(tables, answers);
  const chances = byCause(tables, shown, (one) => one.chance);
  const ranked = tables.causes
    .map((cause, at) => ({ cause: cause.id, p: chances[at] as number }))
    .filter((one) => one.p > 0)
    .sort((one, other) => Math.round(other.p / ALIKE) - Math.round(one.p / ALIKE));
  const following = nextOf(tables, answers, shown);
  const [likeliest] = ranked;
  if (!likeliest || likeliest.p < tables.known) return { ranked, next: following, found: null, struck: false };
  const look = lookOf(tables, answers, shown);
  return { ranked, next: following?.first ? following : look, found: look ? null : likeliest.cause, struck: false };
}

/** The causes that together are as likely as one has to be to be acted on. */
export function leading(tables: Tables, { ranked }: Traced): string[] {
  const taken: string[] = [];
  let sure = 0;
  for (const { cause, p } of ranked) {
    if (sure >= tables.known) break;
    taken.push(cause);
    sure += p;
  }
  return taken;
}

/** What an answer takes, a ladder counted once. */
export function minutesOf(tables: Tables, asking: Asking, answers: Answers): number {
  const up = tables.questions.some((one) => one.ladder && answers.has(one.id));
  return asking.minutes + (asking.ladder && !up ? tables.ladder : 0);
}

/** A picture of a cause, and how likely it is; `at` is the place of the cause. */
interface Shown {
  readonly at: number;
  readonly says: Says;
  readonly chance: number;
}

/** Every picture, in the order of the causes. */
function shownOf(tables: Tables, answers: Answers): Shown[] {
  const told = [...answers].filter(([, answer]) => !MUTE.has(answer));
  const all = tables.causes.flatMap((cause, at) =>
    picturesOf(cause).map(({ share, says }) => {
      let log = Math.log(weightOf(cause, told)) + Math.log(share);
      for (const [question, answer] of told) log += Math.log(likelihood(tables, says, question, answer));
      return { at, says, log };
    }),
  );
  const most = Math.max(...all.map((one) => one.log));
  const whole = sum(all.map((one) => Math.exp(one.log - most)));
  return all.map(({ at, says, log }) => ({ at, says, chance: Math.exp(log - most) / whole }));
}

/** What a cause says goes for each of its pictures that says nothing else. */
function picturesOf(cause: Cause): readonly Picture[] {
  const pictures = cause.pictures ?? [{ share: 1, says: {} }];
  const whole = sum(pictures.map((one) => one.share));
  return pictures.map(({ share, says }) => ({ share: share / whole, says: { ...cause.says, ...says } }));
}

/** Some figure of the pictures, added up by cause. */
function byCause(tables: Tables, shown: readonly Shown[], figure: (one: Shown) => number): number[] {
  const sums = tables.causes.map(() => 0);
  for (const one of shown) sums[one.at] = (sums[one.at] as number) + figure(one);
  return sums;
}

/** What a person answered is not counted once more from the records. */
function weightOf(cause: Cause, told: readonly (readonly [string, string])[]): number {
  const open = Object.entries(cause.told ?? {}).filter(([question]) => told.every(([one]) => one !== question));
  return open.reduce((weight, [, factor]) => weight * factor, cause.weight);
}

function likelihood(tables: Tables, says: Says, question: string, answer: string): number {
  const asking = tables.questions.find((one) => one.id === question);
  const usual = asking?.usual ?? {};
  const row = says[question] ?? usual;
  return (1 - tables.slip) * share(row, answer) + tables.slip * share(usual, answer);
}

function share(row: Readonly<Record<string, number>>, answer: string): number {
  return (row[answer] ?? 0) / sum(Object.values(row));
}

/** Of a question how likely each cause is together with each answer. */
function jointOf(tables: Tables, asking: Asking, shown: readonly Shown[]): number[][] {
  const columns = Object.keys(asking.usual).map((answer) =>
    byCause(tables, shown, (one) => one.chance * likelihood(tables, one.says, asking.id, answer)),
  );
  return tables.causes.map((_, at) => columns.map((column) => column[at] as number));
}

function openOf(tables: Tables, answers: Answers): Asking[] {
  return tables.questions.filter((one) => !answers.has(one.id));
}

function nextOf(tables: Tables, answers: Answers, shown: readonly Shown[]): Following | null {
  const open = openOf(tables, answers);
  const leading = open.filter((one) => one.first !== undefined).sort((a, b) => (a.first ?? 0) - (b.first ?? 0));
  if (leading[0]) return following(tables, leading[0], answers, shown, true);
  const told = open.map((one) => bits(jointOf(tables, one, shown)) / minutesOf(tables, one, answers));
  const asking = bestOf(open, told, tables.enough);
  return asking && following(tables, asking, answers, shown, false);
}

/** The cheap look that is likeliest to speak against the likeliest cause. */
function lookOf(tables: Tables, answers: Answers, shown: readonly Shown[]): Following | null {
  const cheap = openOf(tables, answers).filter((one) => one.minutes <= tables.glance && !one.ladder && !one.barrier);
  const upsets = cheap.map((one) => upset(tables, jointOf(tables, one, shown)));
  const asking = bestOf(cheap, upsets, tables.upset - ALIKE);
  return asking && following(tables, asking, answers, shown, false);
}

/** The first of those with about the largest figure; null if that is too small. */
function bestOf(ones: readonly Asking[], figures: readonly number[], least: number): Asking | null {
  const best = Math.max(0, ...figures);
  if (best < least) return null;
  return ones[figures.findIndex((one) => one >= best - ALIKE)] ?? null;
}

/** How likely an answer is after which the likeliest cause is not found any more. */
function upset(tables: Tables, joint: readonly (readonly number[])[]): number {
  const chances = joint.map(sum);
  const own = joint[chances.indexOf(Math.max(...chances))] ?? [];
  return sum(seenOf(joint).filter((seen, answer) => (own[answer] as number) < (tables.known - ALIKE) * seen));
}

function seenOf(joint: readonly (readonly number[])[]): number[] {
  return (joint[0] ?? []).map((_, answer) => sum(joint.map((row) => row[answer] as number)));
}

function following(tables: Tables, asking: Asking, answers: Answers, shown: readonly Shown[], first: boolean): Following {
  return { question: asking.id, minutes: minutesOf(tables, asking, answers), parts: parted(tables, asking, shown), first };
}

/** The doubt about the cause that an answer is expected to take away. */
function bits(joint: readonly (readonly number[])[]): number {
  return doubt(joint.map(sum)) + doubt(seenOf(joint)) - doubt(joint.flat());
}

/** Shannon's entropy (bit). */
function doubt(chances: readonly number[]): number {
  return -sum(chances.map((one) => (one > 0 ? one * Math.log2(one) : 0)));
}

/** The two causes it tells apart best, weighed by how likely both are. */
function parted(tables: Tables, asking: Asking, shown: readonly Shown[]): [string, string] {
  const joint = jointOf(tables, asking, shown);
  const chances = joint.map(sum);
  const rows = joint.map((row, at) => row.map((one) => Math.sqrt(one / (chances[at] || 1))));
  const pairs = rows.flatMap((one, i) =>
    rows.map((other, j) => {
      const alike = sum(one.map((each, at) => each * (other[at] as number)));
      return { i, j, apart: (1 - alike) * (chances[i] as number) * (chances[j] as number) };
    }),
  );
  const best = pairs.reduce((most, { apart }) => Math.max(most, apart), -Infinity);
  const pair = pairs.find(({ apart }) => apart >= best - ALIKE) as { i: number; j: number };
  const { i, j } = (chances[pair.j] as number) > (chances[pair.i] as number) + ALIKE ? { i: pair.j, j: pair.i } : pair;
  return [(tables.causes[i] as Cause).id, (tables.causes[j] as Cause).id];
}

function sum(some: readonly number[]): number {
  return some.reduce((all, one) => all + one, 0);
}
