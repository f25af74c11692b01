/** Numbers as they are typed and shown: decimal point or comma, a true minus sign. */

const SIXTEENTH = 1 / 16; // in: a slider with this step reads as a tape does

/** A value as a tape shows it, in sixteenths: 6 1/8, −3/16. */
function onTape(value: number): string {
  const all = Math.round(Math.abs(value) / SIXTEENTH);
  let [part, of] = [all % 16, 16];
  while (part && part % 2 === 0) [part, of] = [part / 2, of / 2];
  const whole = Math.floor(all / 16);
  const words = [whole || !part ? String(whole) : "", part ? `${part}/${of}` : ""];
  return (value < 0 && all ? "−" : "") + words.filter(Boolean).join(" ");
}

/** How many decimals a step of the slider needs. */
export function decimalsOf(step: number): number {
  const [, after = ""] = String(step).split(".");
  return after.length;
}

/** What is shown of a value: the step's decimals, with a minus sign, not a hyphen. */
export function shown(value: number, step: number): string {
  if (step === SIXTEENTH) return onTape(value);
  const text = value.toFixed(decimalsOf(step));
  return written(Number(text) === 0 ? text.replace("-", "") : text);
}

/** A number as the page's language writes it: its comma or point, a true minus sign. */
export function written(text: string): string {
  return text.replace("-", "−").replace(".", comma());
}

function comma(): string {
  return globalThis.document?.documentElement.dataset["comma"] ?? ".";
}

/** The number typed, if the text is one, alone or with the unit shown; else null. */
export function typed(text: string, unit: string): number | null {
  const bare = text.trim().replace(/^[−–]/, "-").replace(",", ".");
  const number = unit && bare.endsWith(unit) ? bare.slice(0, -unit.length).trim() : bare;
  if (/^[+-]?(\d+\.?\d*|\.\d+)$/.test(number)) return Number(number);
  const [, sign, whole = "0", over, under] = /^([+-]?)(?:(\d+)\s+)?(\d+)\/(\d+)$/.exec(number) ?? [];
  if (!over || !Number(under)) return null;
  return (sign === "-" ? -1 : 1) * (Number(whole) + Number(over) / Number(under));
}

/** Where a value lies between two others, in percent, no further than either. */
export function percent(value: number, least: number, most: number): number {
  return Math.min(100, Math.max(0, (100 * (value - least)) / (most - least)));
}
