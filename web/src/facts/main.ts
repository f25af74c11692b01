/** All facts of a doorway: what an address names is opened; what is typed is not lost. */
import "./facts.css";

const page = document.querySelector<HTMLElement>(".facts");

if (page) {
  window.addEventListener("hashchange", reveal);
  document.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest("a[href^='#']") : null;
    if (link && link.getAttribute("href") === location.hash) reveal();
  });
  page.addEventListener("input", (event) => stated(event.target));
  page.addEventListener("submit", (event) => sent(event.target));
  window.addEventListener("beforeunload", (event) => {
    if (page.querySelector("form[data-typed]")) event.preventDefault();
  });
  reveal();
}

/** Open every part around what the address names, and go there. */
function reveal(): void {
  const name = decodeURIComponent(location.hash.slice(1));
  const wanted = name ? document.getElementById(name) : null;
  for (let one: Element | null = wanted; one; one = one.parentElement) {
    if (one instanceof HTMLDetailsElement) one.open = true;
  }
  const inside = wanted?.closest(".facts-list")?.querySelector<HTMLDetailsElement>(".facts-new");
  if (wanted && inside && wanted.tagName === "H3") inside.open = true;
  const fact = wanted?.closest<HTMLElement>(".fact");
  (fact ?? wanted)?.scrollIntoView({ block: "start" });
  const first = (fact ?? wanted?.parentElement)?.querySelector<HTMLElement>("input:not([type=hidden]), select, textarea");
  first?.focus({ preventScroll: true });
}

/** Something was typed: it is no longer "not known", and leaving the page asks first. */
function stated(target: EventTarget | null): void {
  if (!(target instanceof HTMLElement)) return;
  const form = target.closest("form");
  form?.setAttribute("data-typed", "");
  // A bare number counts as the unit that is shown; one with its unit needs none.
  if (target instanceof HTMLInputElement && target.type === "text") {
    target.closest(".entry")?.toggleAttribute("data-united", /[\p{L}%°]/u.test(target.value));
  }
  const fact = target.closest(".fact");
  const unknown = fact?.querySelector<HTMLInputElement>("input[type=checkbox][value='?']");
  if (!unknown || unknown === target) {
    if (target instanceof HTMLInputElement && target === unknown && target.checked) clear(fact);
    return;
  }
  if (!(target instanceof HTMLInputElement) || target.type !== "checkbox" || target.checked) unknown.checked = false;
}

function clear(fact: Element | null | undefined): void {
  for (const one of fact?.querySelectorAll<HTMLInputElement>("input[type=checkbox]:not([value='?'])") ?? []) {
    one.checked = false;
  }
  const lines = fact?.querySelector("textarea");
  if (lines) lines.value = "";
}

/** What is sent comes back saved, or with what was typed. */
function sent(target: EventTarget | null): void {
  if (target instanceof HTMLFormElement) target.removeAttribute("data-typed");
}
