/** What was set and is not saved yet, kept in this browser until it is. */

export interface Unsaved {
  version: number;
  edits: Record<string, string>;
}

export class Keeping {
  readonly #name: string;

  constructor(address: string) {
    this.#name = `limen:${address}`;
  }

  /** Keep it; false where this browser keeps nothing. */
  keep(what: Unsaved): boolean {
    try {
      if (Object.keys(what.edits).length === 0) localStorage.removeItem(this.#name);
      else localStorage.setItem(this.#name, JSON.stringify(what));
      return true;
    } catch {
      return false;
    }
  }

  /** What was left unsaved the last time; null if nothing was. */
  left(): Unsaved | null {
    try {
      return read(localStorage.getItem(this.#name));
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
