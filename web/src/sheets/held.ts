/** A sheet that is being typed, kept in this browser until it is kept for good. */

export type Typed = [string, string][];

export function hold(name: string, typed: Typed): void {
  const said = JSON.stringify(typed);
  // This tab's own come first; a tab that was closed is found again in the other.
  attempt(() => sessionStorage.setItem(name, said));
  attempt(() => localStorage.setItem(name, said));
}

export function forget(name: string): void {
  attempt(() => sessionStorage.removeItem(name));
  attempt(() => localStorage.removeItem(name));
}

export function held(name: string): Typed | null {
  return read(sessionStorage, name) ?? read(localStorage, name);
}

/** All that stands in a form; whatever button was pressed is none of it. */
export function typedIn(form: FormData): Typed {
  return [...form].filter((one): one is [string, string] => typeof one[1] === "string" && one[0] !== "act");
}

function read(store: Storage, name: string): Typed | null {
  try {
    const found: unknown = JSON.parse(store.getItem(name) ?? "null");
    return Array.isArray(found) && found.every(isPair) ? found : null;
  } catch {
    return null;
  }
}

function isPair(one: unknown): one is [string, string] {
  return Array.isArray(one) && one.length === 2 && one.every((part) => typeof part === "string");
}

/** A browser may refuse to keep anything; the form is still there. */
function attempt(keep: () => void): void {
  try {
    keep();
  } catch {
    // Nothing to be done about it, and nothing is lost by it yet.
  }
}
