/** Readings: kept while they are typed, fitted by the server, written into the door. */
import "./readings.css";
import { send, says as saidWhy, type Answer } from "../asking.ts";
import { Latest } from "../doorway/latest.ts";
import { add, fieldOf, gathered, point, put, refill, show } from "./form.ts";
import { forget, hold, recall, turned } from "./held.ts";
import { isSaid, linesIn, showFaults, showSaid, type Said } from "./shown.ts";

const WAIT = 300; // ms without a key before the server is asked
const THEN = 400; // ms more before it studies the door as well

type Act = "look" | "study";
const MOST_TEXT = 100_000;

const form = document.querySelector<HTMLFormElement>("form[data-readings]");
if (form?.querySelector("[data-unit-at]")) wire(form);

function wire(form: HTMLFormElement): void {
  const name = form.dataset["keptAs"] ?? "limen:readings";
  const left = new Set<string>();
  let waiting = 0;
  const latest = new Latest((act: Act) => ask(form, act), (answer: Answer) => {
    if (!looked(form, answer, left)) return;
    clearTimeout(waiting);
    waiting = window.setTimeout(() => latest.ask("study"), THEN);
  });
  const before = form.querySelector<HTMLElement>("[data-before]");
  const changed = (wait: number) => {
    hold(name, gathered(form));
    show(form);
    clearTimeout(waiting);
    waiting = window.setTimeout(() => latest.ask("look"), wait);
  };
  const held = recall(name);
  if (held) {
    refill(form, held);
    before?.removeAttribute("hidden");
    latest.ask("look");
  }
  show(form);
  form.addEventListener("focusin", (event) => event.target instanceof Element && point(event.target));
  form.addEventListener("input", () => {
    told(form, "");
    refuse(form, "");
    changed(WAIT);
  });
  form.addEventListener("change", (event) => {
    if (event.target instanceof HTMLInputElement && event.target.matches("[data-take]")) return void take(form, event.target, () => changed(0));
    leave(event, left);
    changed(0);
  });
  form.addEventListener("focusout", (event) => leave(event, left) && changed(WAIT));
  form.addEventListener("keydown", (event) => event.key === "Enter" && onward(form, event));
  form.addEventListener("click", (event) => pressed(form, event, () => changed(0)));
  form.addEventListener("submit", (event) => {
    if (event.submitter instanceof HTMLElement && event.submitter.matches("[data-save]")) return;
    event.preventDefault();
    if (event.submitter?.matches("[data-write]")) void write(form, latest, left);
  });
  form.querySelector("[data-anew]")?.addEventListener("click", () => {
    forget(name);
    form.reset();
    for (const one of form.querySelectorAll("[data-remove]")) one.closest("[data-reading]")?.remove();
    left.clear();
    before?.setAttribute("hidden", "");
    show(form);
    latest.ask("look");
    form.querySelector<HTMLInputElement>(".rd-entry input")?.focus();
  });
}

/** What was left: the field, and with the last of its fields the reading. */
function leave(event: Event, left: Set<string>): boolean {
  const field = event.target;
  if (!(field instanceof HTMLInputElement || field instanceof HTMLSelectElement)) return false;
  const size = left.size;
  if (field.value) left.add(field.name);
  const reading = field.closest<HTMLElement>("[data-reading]");
  const to = event instanceof FocusEvent ? event.relatedTarget : field;
  if (reading && !(to instanceof Node && reading.contains(to))) left.add(reading.dataset["reading"] ?? "");
  return left.size > size;
}

/** Enter leads to the next figure; it never writes. */
function onward(form: HTMLFormElement, event: KeyboardEvent): void {
  if (!(event.target instanceof HTMLInputElement) || event.target.type !== "text") return;
  event.preventDefault();
  const fields = [...form.querySelectorAll<HTMLInputElement>(".rd-entry input")];
  fields[fields.indexOf(event.target) + 1]?.focus();
}

function pressed(form: HTMLFormElement, event: Event, changed: () => void): void {
  const button = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-off],[data-sign],[data-at],[data-add],[data-remove],[data-strike],[data-go],[data-fill]") : null;
  if (!button) return;
  const data = button.dataset;
  const field = byId(form, data["sign"] ?? data["off"] ?? data["into"] ?? data["strike"] ?? data["go"]);
  if (data["go"] !== undefined) event.preventDefault();
  if (data["go"] !== undefined) return field ? goTo(field) : undefined;
  if (data["sign"] !== undefined && field) field.value = turned(field.value);
  if (data["off"] !== undefined && field instanceof HTMLInputElement) insert(field, " ± ");
  if (data["at"] !== undefined && field) field.value = data["at"];
  if (data["strike"] !== undefined && field instanceof HTMLInputElement) field.checked = !field.checked;
  if (data["fill"] !== undefined) for (const [key, value] of Object.entries(JSON.parse(data["fill"]) as Record<string, string>)) put(form, key, value);
  if (data["add"] !== undefined) {
    const at = button.closest<HTMLElement>("[data-unit-at]")?.dataset["unitAt"] ?? "";
    const added = add(form, at, data["add"]);
    const first = added?.querySelector<HTMLElement>(".rd-entry input");
    if (first) goTo(first);
  }
  if (data["remove"] !== undefined) remove(button);
  if (data["sign"] !== undefined || data["at"] !== undefined) field?.focus();
  changed();
}

function remove(button: HTMLElement): void {
  const unit = button.closest("[data-unit-at]");
  button.closest("[data-reading]")?.remove();
  unit?.querySelector<HTMLElement>("[data-add]")?.focus();
}

function insert(field: HTMLInputElement, text: string): void {
  field.focus();
  if (!field.value.includes("±")) field.setRangeText(text, field.value.length, field.value.length, "end");
}

function byId(form: HTMLFormElement, id: string | undefined): HTMLInputElement | HTMLSelectElement | null {
  return id ? fieldOf(form, id.replace(/^f-/, "")) : null;
}

function goTo(field: HTMLElement): void {
  field.closest("details")?.setAttribute("open", "");
  const place = field.closest(".rd-ask") ?? field;
  place.scrollIntoView({ block: "center" });
  field.focus({ preventScroll: true });
  if (field instanceof HTMLInputElement && field.type === "text") field.select();
}

function ask(form: HTMLFormElement, act: string, more: Record<string, string> = {}): Promise<Answer> {
  const fields = new URLSearchParams({ ...gathered(form).fields, ...more, act });
  const version = fieldOf(form, "version")?.value ?? "";
  fields.delete("version");
  return send("POST", form.action, act === "write" ? { form: fields, ifMatch: `"${version}"` } : { form: fields });
}

/** Show what was found; whether the door is still to be studied so. */
function looked(form: HTMLFormElement, answer: Answer, left: Set<string>): boolean {
  unanswered(form, answer);
  if (answer.kind === "refused") refuse(form, linesIn(answer.body).join(" "));
  if (answer.kind !== "done" || !isSaid(answer.body)) return false;
  // What is wrong and stands in no field is told here.
  if (!form.querySelector("[data-refused][data-stays]")) refuse(form, answer.body.faults[""] ?? "");
  // What is shown was reckoned with the site as this version says.
  const version = fieldOf(form, "version");
  if (version && answer.version) version.value = answer.version.replaceAll('"', "");
  shown(form, answer.body, left);
  return answer.body.later;
}

function shown(form: HTMLFormElement, said: Said, left: Set<string>, every = false): void {
  showSaid(form, said);
  showFaults(form, said, left, every);
}

function unanswered(form: HTMLFormElement, answer: Answer): void {
  if (answer.kind === "unanswered") refuse(form, saidWhy(answer) ?? form.dataset["wordUnanswered"] ?? "");
}

/** Why something was not done; what stays is read before the next figure is typed. */
function refuse(form: HTMLFormElement, why: string, stays = false): void {
  const place = form.querySelector<HTMLElement>("[data-refused]");
  if (!place) return;
  place.toggleAttribute("data-stays", stays);
  if (place.textContent !== why) place.textContent = why;
  place.hidden = !why;
}

function told(form: HTMLFormElement, html: string): void {
  const place = form.querySelector("[data-told]");
  if (place && place.innerHTML !== html) place.innerHTML = html;
}

// Writing -----------------------------------------------------------------------

interface Written {
  said: string;
  address: string;
  done_html: string;
}

async function write(form: HTMLFormElement, latest: { drop(): void; ask(act: Act): void }, left: Set<string>): Promise<void> {
  const button = form.querySelector<HTMLButtonElement>("[data-write]");
  if (!button || button.disabled) return;
  button.disabled = true;
  latest.drop();
  told(form, words(form.dataset["wordChanging"]));
  refuse(form, "");
  const answer = await ask(form, "write");
  // What was asked meanwhile was asked of the version before.
  latest.drop();
  button.disabled = false;
  button.focus();
  told(form, "");
  unanswered(form, answer);
  if (answer.kind === "clash") {
    refuse(form, form.dataset["wordChanged"] ?? "", true);
    latest.ask("look");
  }
  if (answer.kind === "refused") {
    if (isSaid(answer.body)) shown(form, answer.body, left, true);
    refuse(form, linesIn(answer.body).join(" "), true);
    form.querySelector<HTMLElement>("[aria-invalid]")?.focus();
  }
  if (answer.kind !== "done") return;
  keptAs(form, answer.version);
  told(form, (answer.body as Written).done_html);
  form.querySelector("[data-back]")?.addEventListener("click", () => void back(form, latest));
  latest.ask("look");
}

function keptAs(form: HTMLFormElement, version: string | null): void {
  const field = fieldOf(form, "version");
  if (field && version) field.value = version.replaceAll('"', "");
}

async function back(form: HTMLFormElement, latest: { drop(): void; ask(act: Act): void }): Promise<void> {
  const version = fieldOf(form, "version")?.value ?? "";
  const answer = await send("POST", `/sites/${form.dataset["site"] ?? ""}/undo`, { ifMatch: `"${version}"` });
  latest.drop();
  unanswered(form, answer);
  if (answer.kind === "clash") refuse(form, form.dataset["wordChanged"] ?? "", true);
  if (answer.kind === "refused") refuse(form, linesIn(answer.body).join(" "));
  if (answer.kind !== "done") return;
  keptAs(form, answer.version);
  told(form, "");
  form.querySelector<HTMLElement>("[data-write]")?.focus();
  latest.ask("look");
}

// Files -------------------------------------------------------------------------

async function take(form: HTMLFormElement, from: HTMLInputElement, changed: () => void): Promise<void> {
  const file = from.files?.[0];
  if (!file) return;
  const text = (await file.text()).slice(0, MOST_TEXT);
  from.value = "";
  const answer = await send("POST", form.action, { form: new URLSearchParams({ act: "take", text }) });
  unanswered(form, answer);
  if (answer.kind === "refused") refuse(form, linesIn(answer.body).join(" "), true);
  if (answer.kind !== "done") return;
  refuse(form, "");
  const place = form.querySelector("[data-units]");
  if (place) place.innerHTML = (answer.body as { units_html: string }).units_html;
  changed();
  told(form, words(form.dataset["wordTaken"]));
}

function words(text: string | undefined): string {
  const line = document.createElement("p");
  line.textContent = text ?? "";
  return line.outerHTML;
}
