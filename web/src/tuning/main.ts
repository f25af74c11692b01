/**
 * The page of the best settings: a choice is looked at by a tap near its disc, by its
 * link, or by keys from disc to disc. The server says what each choice comes to.
 */
import htmx from "htmx.org/dist/htmx.esm.js";

import { isWay, nearest, next, type Disc } from "./nearest.ts";

const REACH = 40; // px from the middle of a disc at which a tap still means it

const root = document.querySelector<HTMLElement>("[data-tuning]");

if (root) {
  root.addEventListener("click", (event) => clicked(root, event));
  root.addEventListener("keydown", (event) => keyed(event));
  // Where somebody else saved meanwhile, both versions are shown: there the eye is led.
  root.addEventListener("htmx:afterSwap", () => root.querySelector<HTMLElement>(".merging h2")?.focus());
}

function clicked(place: HTMLElement, event: MouseEvent): void {
  if (!(event.target instanceof Element) || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const link = event.target.closest("[data-choice]") ?? near(event.target, event);
  if (!link) return;
  event.preventDefault();
  void look(place, link);
}

/** The disc near which somebody pressed; a finger hardly meets one that is small. */
function near(target: Element, event: MouseEvent): Element | null {
  const picture = target.closest("svg.choices");
  if (!picture) return null;
  const found = nearest(discsOf(picture), event.clientX, event.clientY, REACH);
  return found && linkOf(picture, found.letter);
}

function keyed(event: KeyboardEvent): void {
  if (!(event.target instanceof Element) || !isWay(event.key)) return;
  const link = event.target.closest("svg.choices [data-choice]");
  const picture = link?.closest("svg.choices");
  if (!link || !picture) return;
  event.preventDefault();
  const discs = discsOf(picture);
  const from = discs.find((one) => one.letter === letterOf(link));
  const to = from && next(discs, from, event.key);
  if (to) (linkOf(picture, to.letter) as SVGElement | null)?.focus();
}

/** Ask the server for a choice; the focus stays with what was pressed. */
async function look(place: HTMLElement, link: Element): Promise<void> {
  const href = link.getAttribute("href");
  if (!href) return;
  const [letter, by] = [letterOf(link), link.closest("[data-choices]")?.getAttribute("data-choices")];
  place.toggleAttribute("data-waiting", true);
  await htmx.ajax("get", href, { target: place, swap: "innerHTML" });
  place.removeAttribute("data-waiting");
  history.replaceState(null, "", href);
  const there = place.querySelectorAll<SVGElement>(`[data-choices="${by}"] [data-choice="${letter}"]`);
  // Of the pictures for a wide screen and for a phone only one is to be seen.
  [...there].find((one) => one.getClientRects().length)?.focus({ preventScroll: true });
  say(place);
}

/** Read out what is looked at now. */
function say(place: HTMLElement): void {
  const status = document.querySelector("[data-tuning-says]");
  const said = place.querySelector("[data-says]")?.getAttribute("data-says");
  if (status && said) status.textContent = said;
}

function discsOf(picture: Element): Disc[] {
  return [...picture.querySelectorAll("[data-choice]")].map((link) => {
    const box = link.querySelector(".choice-disc")!.getBoundingClientRect();
    return { letter: letterOf(link), x: box.x + box.width / 2, y: box.y + box.height / 2 };
  });
}

function linkOf(picture: Element, letter: string): Element | null {
  return picture.querySelector(`[data-choice="${letter}"]`);
}

function letterOf(link: Element): string {
  return link.getAttribute("data-choice") ?? "";
}
