/** What the server says of the answers, put where it is read. */

export interface Said {
  verdict_html: string;
  tally_html: string;
  edition_html: string;
  progress: string;
  applies: string[];
  faults: Record<string, string>;
}

const OWN_UNIT = /[a-z'"′″]/i;

export function isSaid(body: unknown): body is Said {
  return typeof body === "object" && body !== null && "verdict_html" in body && "applies" in body;
}

export function showSaid(form: HTMLFormElement, said: Said): void {
  put(form, "[data-survey-verdict]", said.verdict_html);
  put(form, "[data-survey-tally]", said.tally_html);
  const progress = form.querySelector("[data-survey-progress]");
  if (progress) progress.textContent = said.progress;
  showEdition(form, said.edition_html);
  const applies = new Set(said.applies);
  for (const asked of form.querySelectorAll<HTMLElement>("[data-ask]")) {
    asked.hidden = !applies.has(asked.dataset["ask"] ?? "");
  }
}

/** The panel keeps what its reader opened. */
function put(form: HTMLFormElement, where: string, html: string): void {
  const place = form.querySelector(where);
  if (!place || place.innerHTML === html) return;
  const open = new Set([...place.querySelectorAll<HTMLElement>("details[open]")].map((one) => one.dataset["group"]));
  const shut = place.querySelector(".survey-assumed:not([open])") !== null;
  place.innerHTML = html;
  for (const one of place.querySelectorAll<HTMLDetailsElement>("details[data-group]")) {
    one.open = open.has(one.dataset["group"]);
  }
  if (shut) place.querySelector(".survey-assumed")?.removeAttribute("open");
}

function showEdition(form: HTMLFormElement, html: string): void {
  const place = form.querySelector<HTMLElement>("[data-edition]");
  const before = place?.querySelector("select");
  if (!place || document.activeElement === before) return;
  const wanted = before?.value || before?.dataset["wanted"] || "";
  place.innerHTML = html;
  const after = place.querySelector("select");
  if (!after || after.value === wanted) return;
  after.value = [...after.options].some((one) => one.value === wanted) ? wanted : "";
  if (after.value) after.dispatchEvent(new Event("input", { bubbles: true }));
}

/** Faults under their questions; only of those that were left, if any are named. */
export function showFaults(form: HTMLFormElement, faults: Record<string, string>, left?: Set<string>): void {
  for (const asked of form.querySelectorAll<HTMLElement>("[data-ask]")) {
    const key = asked.dataset["ask"] ?? "";
    const why = !left || left.has(key) ? faults[key] ?? "" : "";
    const told = asked.querySelector<HTMLElement>(`#e-${CSS.escape(key)}`);
    if (!told) continue;
    if (told.textContent !== why) told.textContent = why;
    told.hidden = !why;
    for (const field of asked.querySelectorAll("input[type=text], input[type=date], select")) {
      if (why) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }
  }
}

/** Why the doorway was not kept: a list that leads to each question. */
export function showMissing(form: HTMLFormElement, body: unknown): void {
  const faults = byQuestion(body);
  showFaults(form, faults);
  const box = form.querySelector<HTMLElement>("[data-survey-faults]");
  const list = box?.querySelector("ul");
  if (!box || !list) return;
  const lines = Object.keys(faults).length ? Object.entries(faults) : linesIn(body).map((one) => ["", one] as const);
  list.replaceChildren(...lines.map(([key, why]) => line(form, key, why)));
  box.hidden = false;
  box.focus();
  box.scrollIntoView({ block: "start" });
}

function line(form: HTMLFormElement, key: string, why: string): HTMLLIElement {
  const item = document.createElement("li");
  const asked = key ? form.querySelector(`#q-${CSS.escape(key)}`) : null;
  if (!asked) {
    item.textContent = why;
    return item;
  }
  const link = document.createElement("a");
  link.href = `#q-${key}`;
  link.textContent = `${form.querySelector(`#n-${CSS.escape(key)}`)?.textContent?.trim() ?? key}: ${why}`;
  link.addEventListener("click", (event) => {
    event.preventDefault();
    asked.scrollIntoView({ block: "start" });
    asked.querySelector<HTMLElement>("input, select")?.focus({ preventScroll: true });
  });
  item.append(link);
  return item;
}

function byQuestion(body: unknown): Record<string, string> {
  if (typeof body !== "object" || body === null || !("by_question" in body)) return {};
  return body.by_question as Record<string, string>;
}

function linesIn(body: unknown): string[] {
  if (typeof body === "string") return [body];
  if (typeof body !== "object" || body === null || !("lines" in body)) return [];
  return Array.isArray(body.lines) ? body.lines.map(String) : [];
}

/** A unit that was typed takes the place of the one that is shown. */
export function showUnits(form: HTMLFormElement): void {
  for (const unit of form.querySelectorAll<HTMLElement>("[data-unit]")) {
    const field = unit.parentElement?.querySelector("input");
    unit.toggleAttribute("hidden", OWN_UNIT.test(field?.value ?? ""));
  }
}
