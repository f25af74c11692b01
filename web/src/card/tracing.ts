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
  readonly says: Readonly<Record<string, Readonly<Record<string, number>>>>;
}

export interface Tables<A extends Asking = Asking, C extends Cause = Cause> {
  /** Minutes to be up on one, paid once. */
  readonly ladder: number;
  /** From where a cause counts as found. */
  readonly known: number;
  /** Bits a minute below which a question is not worth its time. */
  readonly enough: number;
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
const ALIKE = 1e-12; // figures closer than this are alike: what stands first is taken

export function trace(tables: Tables, answers: Answers): Traced {
  if (answers.get(SYMPTOM) === STRUCK) return { ranked: [], next: null, found: null, struck: true };
  const chances = chancesOf(tables, answers);
  const ranked = tables.causes
    .map((cause, at) => ({ cause: cause.id, p: chances[at] as number }))
    .filter((one) => one.p > 0)
    .sort((one, other) => other.p - one.p);
  const following = nextOf(tables, answers, chances);
  const [likeliest] = ranked;
  const found = likeliest && likeliest.p >= tables.known ? likeliest.cause : null;
  return { ranked, next: found === null || following?.first ? following : null, found, struck: false };
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

function chancesOf(tables: Tables, answers: Answers): number[] {
  const told = [...answers].filter(([, answer]) => !MUTE.has(answer));
  const logs = tables.causes.map((cause) => {
    let log = Math.log(weightOf(cause, told));
    for (const [question, answer] of told) log += Math.log(likelihood(tables, cause, question, answer));
    return log;
  });
  const most = Math.max(...logs);
  const chances = logs.map((log) => Math.exp(log - most));
  const whole = sum(chances);
  return chances.map((one) => one / whole);
}

/** What a person answered is not counted once more from the records. */
function weightOf(cause: Cause, told: readonly (readonly [string, string])[]): number {
  const open = Object.entries(cause.told ?? {}).filter(([question]) => told.every(([one]) => one !== question));
  return open.reduce((weight, [, factor]) => weight * factor, cause.weight);
}

function likelihood(tables: Tables, cause: Cause, question: string, answer: string): number {
  const asking = tables.questions.find((one) => one.id === question);
  const usual = asking?.usual ?? {};
  const row = cause.says[question] ?? usual;
  return (1 - tables.slip) * share(row, answer) + tables.slip * share(usual, answer);
}

function share(row: Readonly<Record<string, number>>, answer: string): number {
  return (row[answer] ?? 0) / sum(Object.values(row));
}

/** Of a question the likelihood of each answer, by cause. */
function rowsOf(tables: Tables, asking: Asking): number[][] {
  const answers = Object.keys(asking.usual);
  return tables.causes.map((cause) => answers.map((answer) => likelihood(tables, cause, asking.id, answer)));
}

function nextOf(tables: Tables, answers: Answers, chances: readonly number[]): Following | null {
  const open = tables.questions.filter((one) => !answers.has(one.id));
  const leading = open.filter((one) => one.first !== undefined).sort((a, b) => (a.first ?? 0) - (b.first ?? 0));
  if (leading[0]) return following(tables, leading[0], answers, chances, true);
  const told = open.map((one) => bits(rowsOf(tables, one), chances) / minutesOf(tables, one, answers));
  const best = Math.max(0, ...told);
  const asking = open[told.findIndex((one) => one >= best - ALIKE)];
  if (!asking || best < tables.enough) return null;
  return following(tables, asking, answers, chances, false);
}

function following(tables: Tables, asking: Asking, answers: Answers, chances: readonly number[], first: boolean): Following {
  return { question: asking.id, minutes: minutesOf(tables, asking, answers), parts: parted(tables, asking, chances), first };
}

/** The doubt about the cause that an answer is expected to take away. */
function bits(rows: readonly (readonly number[])[], chances: readonly number[]): number {
  const joint = rows.map((row, at) => row.map((one) => one * (chances[at] as number)));
  const seen = (rows[0] ?? []).map((_, answer) => sum(joint.map((row) => row[answer] as number)));
  return doubt(chances) + doubt(seen) - doubt(joint.flat());
}

/** Shannon's entropy (bit). */
function doubt(chances: readonly number[]): number {
  return -sum(chances.map((one) => (one > 0 ? one * Math.log2(one) : 0)));
}

/** The two causes it tells apart best, weighed by how likely both are. */
function parted(tables: Tables, asking: Asking, chances: readonly number[]): [string, string] {
  const rows = rowsOf(tables, asking).map((row) => row.map(Math.sqrt));
  const pairs = rows.flatMap((one, i) =>
    rows.map((other, j) => {
      const alike = sum(one.map((each, at) => each * (other[at] as number)));
      return { i, j, apart: (1 - alike) * (chances[i] as number) * (chances[j] as number) };
    }),
  );
  const best = pairs.reduce((most, { apart }) => Math.max(most, apart), -Infinity);
  const pair = pairs.find(({ apart }) => apart >= best - ALIKE) as { i: number; j: number };
  const { i, j } = (chances[pair.j] as number) > (chances[pair.i] as number) ? { i: pair.j, j: pair.i } : pair;
  return [(tables.causes[i] as Cause).id, (tables.causes[j] as Cause).id];
}

function sum(some: readonly number[]): number {
  return some.reduce((all, one) => all + one, 0);
}
