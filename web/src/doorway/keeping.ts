/** What was set and is not saved yet, kept in this browser until it is. */

export interface Unsaved {
  version: number;
  edits: Record<string, string>;
}

export class Keeping {
  readonly #name: string;
  /** Whether what is kept is of this page: another one's stays. */
  #own = false;

  constructor(address: string) {
    this.#name = `limen:${address}`;
  }

  /** Keep it; false where this browser keeps nothing. */
  keep(what: Unsaved): boolean {
    try {
      const some = Object.keys(what.edits).length > 0;
      if (some) localStorage.setItem(this.#name, JSON.stringify(what));
      else if (this.#own) localStorage.removeItem(this.#name);
      this.#own = some;
      return true;
    } catch {
      return false;
    }
  }

  /** What was left unsaved the last time; null if nothing was. */
  left(): Unsaved | null {
    try {
      const found = read(localStorage.getItem(this.#name));
      this.#own = found !== null;
      return found;
    } catch {
      return null;
    }
  }
}

function read(text: string | null): Unsaved | null {
  if (text === null) return null;
  const found: unknown = JSON.parse(text);
  if (typeof found !== "object" || found === null) return null;
  const { version, edits } = found as Partial<Unsaved>;
  if (typeof version !== "number" || typeof edits !== "object" || edits === null) return null;
  const texts = Object.entries(edits).filter(([, value]) => typeof value === "string");
  return texts.length ? { version, edits: Object.fromEntries(texts) } : null;
}
