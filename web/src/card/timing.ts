/**
 * Stopwatch, countdown and the ten seconds in which a tap can be taken back. Times are
 * of a clock that nobody can set (`performance.now`), in milliseconds.
 */

export const UNDO = 10_000;

export interface Watch {
  /** When it was started; null while it stands. */
  readonly since: number | null;
  /** What it had run before. */
  readonly before: number;
}

export const STILL: Watch = { since: null, before: 0 };

export function ran(watch: Watch, now: number): number {
  return watch.before + (watch.since === null ? 0 : Math.max(0, now - watch.since));
}

export function pressed(watch: Watch, now: number): Watch {
  return watch.since === null ? { since: now, before: watch.before } : { since: null, before: ran(watch, now) };
}

/** Whole seconds that are left of a wait; 0 when it is over. */
export function left(watch: Watch, seconds: number, now: number): number {
  return Math.max(0, Math.ceil(seconds - ran(watch, now) / 1000));
}

/** How long something can still be taken back; 0 when it cannot. */
export function undoable(kept: number | null, now: number): number {
  return kept === null ? 0 : Math.max(0, UNDO - Math.max(0, now - kept));
}

/** Minutes and seconds; tenths where they are wanted. */
export function clock(milliseconds: number, tenths: string | null = null): string {
  const whole = Math.floor(milliseconds / 1000);
  const [minutes, seconds] = [Math.floor(whole / 60), String(whole % 60).padStart(2, "0")];
  const rest = tenths === null ? "" : `${tenths}${Math.floor((milliseconds % 1000) / 100)}`;
  return `${minutes}:${seconds}${rest}`;
}
