/** Sensor sheets: units follow what is typed, and what is typed outlives a reload. */
import "./sheets.css";
import htmx from "htmx.org/dist/htmx.esm.js";

import { OURS } from "../asking.ts";
import { showUnits } from "../survey/shown.ts";
import { forget, held, hold, typedIn, type Typed } from "./held.ts";

const NAME = `limen:sheet:${location.pathname}${location.search}`;
const FORM = "form.sheet-form";

const formNow = (): HTMLFormElement | null => document.querySelector<HTMLFormElement>(FORM);

function renew(): void {
  for (const form of document.querySelectorAll<HTMLFormElement>(FORM)) showUnits(form);
}

/** Whatever stands in the form now is found again after a reload. */
function note(): void {
  const form = formNow();
  if (form) hold(NAME, typedIn(new FormData(form)));
}

/** Put back what was typed before: the server makes the form, with as many rows. */
async function recall(form: HTMLFormElement, typed: Typed): Promise<void> {
  const body = new URLSearchParams([...typed, ["act", "show"]]);
  const headers = { ...OURS, "HX-Request": "true" };
  try {
    const reply = await fetch(form.action, { method: "POST", headers, body, credentials: "same-origin" });
    if (!reply.ok) return;
    form.outerHTML = await reply.text();
  } catch {
    return; // It stays kept, and is asked for again with the next look.
  }
  const fresh = formNow();
  if (fresh) htmx.process(fresh);
  renew();
  document.querySelector("[data-sheet-before]")?.removeAttribute("hidden");
}

function begin(form: HTMLFormElement): void {
  const typed = held(NAME);
  if (typed && JSON.stringify(typed) !== JSON.stringify(typedIn(new FormData(form)))) void recall(form, typed);
  document.addEventListener("input", (event) => {
    if (event.target instanceof Element && event.target.closest(FORM)) note();
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    const { xhr } = (event as CustomEvent<{ xhr?: XMLHttpRequest }>).detail;
    if (xhr?.getResponseHeader("HX-Redirect") && event.target instanceof Element && event.target.matches(FORM)) {
      forget(NAME);
    }
  });
  document.querySelector("[data-sheet-anew]")?.addEventListener("click", () => {
    forget(NAME);
    location.reload();
  });
}

renew();
document.addEventListener("input", renew);
document.addEventListener("htmx:afterSettle", () => {
  renew();
  // A row more or less is as much work as what stands in it.
  if (held(NAME)) note();
  const told = document.querySelector<HTMLElement>(".sheet-form > .faults");
  told?.scrollIntoView({ block: "start" });
});
const form = formNow();
if (form) begin(form);
