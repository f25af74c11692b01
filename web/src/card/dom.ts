/** Elements made by hand: no markup is ever read from text. */

type Handler = (event: never) => void;
type Value = string | number | boolean | null | undefined | Handler | Readonly<Record<string, string>>;
export type Child = Node | string | null | undefined | false | readonly Child[];

/** An element; `on…` listens, `data` sets data attributes, true and false switch. */
export function el<K extends keyof HTMLElementTagNameMap>(
  name: K,
  given: Readonly<Record<string, Value>> = {},
  ...within: Child[]
): HTMLElementTagNameMap[K] {
  const one = document.createElement(name);
  for (const [key, value] of Object.entries(given)) set(one, key, value);
  fill(one, within);
  return one;
}

export function fill(into: Element, within: readonly Child[]): void {
  for (const child of within) {
    if (Array.isArray(child)) fill(into, child);
    else if (child !== null && child !== undefined && child !== false) into.append(child as Node | string);
  }
}

function set(one: HTMLElement, key: string, value: Value): void {
  if (value === null || value === undefined || value === false) return;
  if (typeof value === "function") one.addEventListener(key.slice(2), value as EventListener);
  else if (typeof value === "object") Object.assign(one.dataset, value);
  else if (value === true) one.setAttribute(key, "");
  else one.setAttribute(key, String(value));
}

const SVG = "http://www.w3.org/2000/svg";

export function svg(name: string, given: Readonly<Record<string, string | number>>, ...within: (SVGElement | string)[]): SVGElement {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(given)) one.setAttribute(key, String(value));
  one.append(...within);
  return one;
}

/** A drawing that the desk wrote, as it stands in the page; null where it cannot be read. */
export function drawn(text: string): SVGSVGElement | null {
  const read = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (read.localName !== "svg") return null;
  const one = document.importNode(read, true) as unknown as SVGSVGElement;
  one.querySelectorAll("script, foreignObject").forEach((bad) => bad.remove());
  return one;
}
