/** The entry of the doorway page: who presses what, and what that means. */
import "./doorway.css";
import "../space/space.css";
import { wireOrigins } from "../facts/origins.ts";
import { wireKnobs } from "../knob.ts";
import { wireClash } from "../clash/doorway.ts";
import { wireMap } from "../map/main.ts";
import { Page } from "./page.ts";
import { chosen } from "./settings.ts";
import { wireWays } from "./ways.ts";

const root = document.querySelector<HTMLElement>("[data-doorway]");

if (root) {
  const page = new Page(root);
  const settings = root.querySelector<HTMLElement>("[data-settings]");
  if (settings) {
    wireKnobs(settings, ({ key, text, settled }) => page.turn(key, text, settled));
  }
  root.addEventListener("change", (event) => changed(page, event.target));
  root.addEventListener("click", (event) => pressed(page, event));
  document.addEventListener("keydown", (event) => keyed(page, event));
  wireOrigins(root.dataset["address"] ?? "");
  wireClash(root, (version) => page.settled(version));
  page.begin();
  wireMap(root);
  wireWays(root);
}

function changed(page: Page, target: EventTarget | null): void {
  if (target instanceof HTMLInputElement && target.type === "radio") {
    if (target.name === "view") page.view(target.value);
    if (target.name === "unit") page.unit(target.value);
    return;
  }
  const choice = chosen(target);
  if (choice) page.turn(choice.key, choice.text, true);
}

function pressed(page: Page, event: MouseEvent): void {
  if (!(event.target instanceof Element) || event.ctrlKey || event.metaKey) return;
  const line = event.target.closest<HTMLElement>("a[data-finding]");
  if (line) {
    event.preventDefault();
    page.finding(line.dataset["finding"]!);
    return;
  }
  const button = event.target.closest<HTMLButtonElement>("button");
  const { step, try: tried } = button?.dataset ?? {};
  if (step === "undo" || step === "redo") void page.step(step);
  if (tried) page.set(JSON.parse(tried) as [string, string][]);
}

/** Undo and redo by the usual keys, where no text is being typed. */
function keyed(page: Page, event: KeyboardEvent): void {
  const typing = event.target instanceof HTMLInputElement && event.target.type === "text";
  if (!(event.ctrlKey || event.metaKey) || typing) return;
  const key = event.key.toLowerCase();
  const way = key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : null;
  if (!way) return;
  event.preventDefault();
  void page.step(way);
}
