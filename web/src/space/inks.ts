/** The page's inks, as they are in the light of this moment. */

export type Inks = (name: string) => string;

/**
 * A custom property holds both lights; only a colour that is used tells which of them
 * it is.
 */
export function inksOf(host: HTMLElement): Inks {
  const probe = document.createElement("span");
  probe.hidden = true;
  host.append(probe);
  const known = new Map<string, string>();
  return (name) => {
    const found = known.get(name);
    if (found) return found;
    probe.style.color = `var(--${name.replaceAll(" ", "-")})`;
    const ink = getComputedStyle(probe).color;
    known.set(name, ink);
    return ink;
  };
}

/** Tell when the light of the page changes. */
export function onLight(told: () => void): void {
  new MutationObserver(told).observe(document.documentElement, { attributeFilter: ["data-theme"] });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", told);
}
