/** Two versions on the doorway page: its panel, and what the page does once it is settled. */
import htmx from "htmx.org/dist/htmx.esm.js";

/** Show both versions; the server's form in it is sent by htmx as on any page. */
export function showClash(place: HTMLElement, html: string): void {
  place.innerHTML = html;
  place.hidden = false;
  htmx.process(place);
  place.querySelector<HTMLElement>("h2")?.focus();
}

/**
 * Say when two versions are settled: with the version that is kept now where they were
 * put together or both were kept, with null where theirs was taken.
 */
export function wireClash(root: HTMLElement, settled: (version: number | null) => void): void {
  root.addEventListener("limen-merged", (event) => {
    const { version } = (event as CustomEvent<{ version: number }>).detail;
    settled(version);
  });
  root.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest("[data-clash-keep='theirs']") : null;
    if (!link) return;
    event.preventDefault();
    settled(null);
  });
}
