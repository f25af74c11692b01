/** What the server says of the readings, put where it is read. */

export interface Said {
  result_html: string;
  bar_html: string;
  writes: boolean;
  later: boolean;
  wrong: string[];
  faults: Record<string, string>;
  open: Record<string, string>;
}

export function isSaid(body: unknown): body is Said {
  return typeof body === "object" && body !== null && "result_html" in body && "faults" in body;
}

export function linesIn(body: unknown): string[] {
  if (typeof body === "string") return [body];
  const lines = (body as { lines?: unknown } | null)?.lines;
  return Array.isArray(lines) ? lines.map(String) : [];
}

export function showSaid(form: HTMLFormElement, said: Said): void {
  put(form, "[data-result]", said.result_html);
  put(form, "[data-bar]", said.bar_html);
  const write = form.querySelector("[data-write]");
  if (said.writes) write?.removeAttribute("aria-disabled");
  else write?.setAttribute("aria-disabled", "true");
  showWrong(form, new Set(said.wrong));
}

/** The reading that is wrong, where it was typed and in the drawing. */
function showWrong(form: HTMLFormElement, wrong: Set<string>): void {
  for (const asked of form.querySelectorAll<HTMLElement>("[data-reading]")) {
    const is = wrong.has(asked.dataset["reading"] ?? "");
    asked.toggleAttribute("data-wrong", is);
    const mark = CSS.escape(asked.dataset["mark"] ?? "");
    asked.closest("[data-unit-at]")?.querySelector(`.rd-above [data-mark="${mark}"]`)?.classList.toggle("wrong", is);
  }
}

/** The panel keeps what its reader opened. */
function put(form: HTMLFormElement, where: string, html: string): void {
  const place = form.querySelector(where);
  if (!place || place.innerHTML === html) return;
  const open = new Set([...place.querySelectorAll<HTMLElement>("details[open]")].map((one) => one.dataset["group"]));
  const held = place.contains(document.activeElement);
  place.innerHTML = html;
  // What was pressed is gone: whoever uses keys goes on where it stood.
  if (held) place.closest<HTMLElement>("[tabindex]")?.focus({ preventScroll: true });
  for (const one of place.querySelectorAll<HTMLDetailsElement>("details[data-group]")) {
    one.open = open.has(one.dataset["group"]);
  }
}

/** What is wrong with a figure is told once it was left, what it lacks once its reading was. */
export function showFaults(form: HTMLFormElement, said: Said, left: Set<string>, every = false): void {
  for (const told of form.querySelectorAll<HTMLElement>("[data-fault-of]")) {
    const name = told.dataset["faultOf"] ?? "";
    const reading = name.slice(0, name.lastIndexOf("."));
    const wrong = every || left.has(name) ? said.faults[name] : undefined;
    const lacks = every || left.has(reading) ? said.open[name] : undefined;
    const why = wrong ?? lacks ?? "";
    if (told.textContent !== why) told.textContent = why;
    told.hidden = !why;
    const field = form.querySelector(`[name="${CSS.escape(name)}"]`);
    if (why) field?.setAttribute("aria-invalid", "true");
    else field?.removeAttribute("aria-invalid");
    if (why) told.closest("details")?.setAttribute("open", "");
  }
}
