/** Lengths as they are read off a tape, and typed from one. */

const INCH = 0.0254;
const EIGHTHS = 8;

/** A length for people: whole millimetres, or feet and inches in eighths. */
export function shownLength(metres: number, feet: boolean): string {
  if (!feet) return `${Math.round(metres * 1000)}\u00a0mm`;
  const eighths = Math.round((metres / INCH) * EIGHTHS);
  const whole = Math.floor(eighths / EIGHTHS);
  const [foot, inch] = [Math.floor(whole / 12), whole % 12];
  const part = fraction(eighths % EIGHTHS);
  const inches = [inch || !part ? String(inch) : "", part].filter(Boolean).join("\u00a0");
  const shown = inch || part || !foot ? `${inches}\u00a0in` : "";
  return [foot ? `${foot}\u00a0ft` : "", shown].filter(Boolean).join("\u00a0");
}

function fraction(eighths: number): string {
  if (!eighths) return "";
  let [over, under] = [eighths, EIGHTHS];
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${over}/${under}`;
}

/**
 * What was typed, in metres; null where it is no number. A comma counts as a point;
 * inches may have a fraction: `21 1/4`.
 */
export function typedLength(text: string, feet: boolean): number | null {
  const parts = /^([-−+]?)(\d+(?:[.,]\d+)?)?(?:\s*(\d+)\/(\d+))?$/.exec(text.trim());
  if (!parts || (parts[2] === undefined && parts[3] === undefined)) return null;
  if (parts[3] !== undefined && (!feet || Number(parts[4]) === 0)) return null;
  const whole = Number((parts[2] ?? "0").replace(",", "."));
  const size = whole + (parts[3] === undefined ? 0 : Number(parts[3]) / Number(parts[4]));
  return (parts[1] && parts[1] !== "+" ? -1 : 1) * size * (feet ? INCH : 0.001);
}

/** As a file takes it: what was typed, and its unit. */
export function writtenLength(text: string, feet: boolean): string {
  return `${text.trim().replace(",", ".").replace("−", "-").replace(/\s+/g, " ")} ${feet ? "in" : "mm"}`;
}
