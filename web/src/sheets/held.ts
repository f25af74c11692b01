/** A sheet that is being typed, kept in this browser until it is kept for good. */
import { kept } from "../held.ts";

export { forget, keep as hold } from "../held.ts";

export type Typed = [string, string][];

export function held(name: string): Typed | null {
  return kept(name, isTyped);
}

/** All that stands in a form; whatever button was pressed is none of it. */
export function typedIn(form: FormData): Typed {
  return [...form].filter((one): one is [string, string] => typeof one[1] === "string" && one[0] !== "act");
}

function isTyped(found: unknown): found is Typed {
  return Array.isArray(found) && found.every(isPair);
}

function isPair(one: unknown): one is [string, string] {
  return Array.isArray(one) && one.length === 2 && one.every((part) => typeof part === "string");
}
