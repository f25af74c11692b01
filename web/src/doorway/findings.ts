/** Findings: what was found a moment ago, what is asked again, what is drawn. */
import type { Line } from "./replies.ts";

/** While a setting is turned: these lines are of this moment, all others wait. */
export function moving(root: HTMLElement, lines: Record<string, Line>): void {
  for (const one of root.querySelectorAll<HTMLElement>("[data-finding]")) {
    const line = lines[one.dataset["finding"] ?? ""];
    const item = one.closest<HTMLElement>(".finding");
    item?.toggleAttribute("data-waiting", line === undefined);
    if (line && item) write(item, line);
  }
}

/** Nothing is of this moment until it has been asked again. */
export function waiting(root: HTMLElement): void {
  for (const one of root.querySelectorAll(".finding")) one.setAttribute("data-waiting", "");
}

export function drawnIs(root: HTMLElement, id: string): void {
  for (const one of root.querySelectorAll<HTMLElement>("[data-finding]")) {
    const own = one.dataset["finding"] === id;
    const item = one.closest(".finding");
    if (own) item?.setAttribute("aria-current", "true");
    else item?.removeAttribute("aria-current");
  }
}

/** New lines; what was opened stays open, and the focus stays where it was. */
export function replace(root: HTMLElement, html: string): void {
  const open = new Map(
    [...root.querySelectorAll<HTMLDetailsElement>("details[data-group]")].map((one) => [
      one.dataset["group"],
      one.open,
    ]),
  );
  const focused = focusIn(root);
  root.innerHTML = html;
  for (const one of root.querySelectorAll<HTMLDetailsElement>("details[data-group]")) {
    one.open = open.get(one.dataset["group"]) ?? one.open;
  }
  if (focused) root.querySelector<HTMLElement>(focused)?.focus();
}

/** What leads to the line that has the focus, or to its "where from". */
function focusIn(root: HTMLElement): string | undefined {
  const focused = document.activeElement;
  if (!(focused instanceof HTMLElement) || !root.contains(focused)) return undefined;
  const finding = focused.dataset["finding"];
  if (finding) return `[data-finding="${CSS.escape(finding)}"]`;
  const origin = focused.matches("a[data-origin]") ? focused.getAttribute("href") : null;
  return origin ? `a[data-origin][href="${CSS.escape(origin)}"]` : undefined;
}

const MARKS: Record<string, string> = {};

/** The marks as the page first had them, by verdict. */
function markOf(verdict: string): string | undefined {
  const slug = verdict.replaceAll(" ", "-");
  if (!(slug in MARKS)) {
    const found = document.querySelector(`.mark-${slug}`)?.outerHTML;
    if (found) MARKS[slug] = found;
  }
  return MARKS[slug];
}

function write(item: HTMLElement, line: Line): void {
  const slug = line.verdict.replaceAll(" ", "-");
  const changed = item.dataset["verdict"] !== slug;
  item.dataset["verdict"] = slug;
  put(item, ".finding-word", line.word);
  put(item, ".finding-because", line.because);
  // Room to spare is not measured out while a unit is moved.
  put(item, ".finding-more", "");
  const mark = changed ? markOf(line.verdict) : undefined;
  const old = item.querySelector(".mark");
  if (mark && old) old.outerHTML = mark;
}

function put(item: HTMLElement, part: string, text: string): void {
  const place = item.querySelector(part);
  if (place && place.textContent !== text) place.textContent = text;
}
