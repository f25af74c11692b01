/** The reader's sentences, their gaps filled. */

export type Words = Readonly<Record<string, string>>;
export type Fills = Readonly<Record<string, string | number>>;

const UNIT = /(?<=\d) (?=(?:\d+\/\d+|mm|m|ft|in|s|min|%|°)(?!\w))/g;

/** The text with no break between a number and its unit. */
export function unbroken(text: string): string {
  return text.replace(UNIT, "\u00a0");
}

export class Saying {
  readonly #words: Words;
  readonly #plural: Intl.PluralRules;
  readonly language: string;

  constructor(words: Words, language: string) {
    this.#words = words;
    this.language = language;
    this.#plural = new Intl.PluralRules(language);
  }

  /** The sentence of a key; the key itself where there is none, so that it is seen. */
  say = (key: string, fills: Fills = {}): string => {
    const sentence = this.#words[key] ?? key;
    const filled = sentence.replace(/\{(\w+)\}/g, (gap, name: string) => String(fills[name] ?? gap));
    return unbroken(filled);
  };

  has(key: string): boolean {
    return key in this.#words;
  }

  /** A count: the sentence `key.none`, `key.one` or `key.many`. */
  count = (key: string, count: number, fills: Fills = {}): string => {
    const forms = [...(count === 0 ? ["none"] : []), this.#plural.select(count), "many"];
    const form = forms.find((one) => this.has(`${key}.${one}`)) ?? "many";
    return this.say(`${key}.${form}`, { ...fills, count });
  };
}
