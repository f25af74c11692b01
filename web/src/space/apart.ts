/** Words that would stand on each other: the less important ones give way. */

export interface Words {
  left: number;
  top: number;
  width: number;
  height: number;
  /** 1 must be read, 2 should, 3 only where there is room. */
  importance: number;
}

/** Which words are shown, by their places in the list; earlier ones go first. */
export function shown(words: readonly Words[], room: { width: number; height: number }): Set<number> {
  const order = words.map((_, index) => index).sort((a, b) => words[a]!.importance - words[b]!.importance || a - b);
  const kept = new Set<number>();
  for (const index of order) {
    const one = words[index]!;
    const within = one.left >= 0 && one.top >= 0 && one.left + one.width <= room.width && one.top + one.height <= room.height;
    if (within && ![...kept].some((other) => meet(one, words[other]!))) kept.add(index);
  }
  return kept;
}

function meet(a: Words, b: Words): boolean {
  const across = a.left < b.left + b.width && b.left < a.left + a.width;
  return across && a.top < b.top + b.height && b.top < a.top + a.height;
}
