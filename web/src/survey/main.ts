/** The survey: kept while it is answered, judged by the server, kept for good at last. */
import "./survey.css";
import { send, type Answer } from "../asking.ts";
import { Latest } from "../doorway/latest.ts";
import { forget, hold, recall } from "./held.ts";
import { isSaid, showFaults, showMissing, showSaid, showUnits } from "./shown.ts";
import { wireWatch } from "./stopwatch.ts";

const WAIT = 350; // ms without a key before the server is asked

const form = document.querySelector<HTMLFormElement>("form[data-survey]");
if (form) wire(form);

function wire(form: HTMLFormElement): void {
  const name = form.dataset["keptAs"] ?? "limen:survey";
  const left = new Set<string>();
  const latest = new Latest(() => ask(form, "look"), (answer: Answer) => judged(form, answer, left));
  let waiting = 0;
  const changed = (wait: number) => {
    hold(name, form);
    showUnits(form);
    clearTimeout(waiting);
    waiting = window.setTimeout(() => latest.ask(undefined), wait);
  };
  const before = form.querySelector<HTMLElement>("[data-survey-before]");
  if (recall(name, form)) {
    before?.removeAttribute("hidden");
    latest.ask(undefined);
  }
  for (const box of form.querySelectorAll<HTMLElement>("[data-watch]")) wireWatch(box, form);
  showUnits(form);
  form.addEventListener("input", () => changed(WAIT));
  form.addEventListener("change", (event) => {
    leave(event.target, left);
    changed(0);
  });
  form.addEventListener("focusout", (event) => leave(event.target, left));
  form.addEventListener("click", (event) => insert(form, event.target));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    void keep(form, name, latest);
  });
  form.querySelector("[data-survey-anew]")?.addEventListener("click", () => {
    forget(name);
    form.reset();
    left.clear();
    before?.setAttribute("hidden", "");
    showUnits(form);
    form.querySelector<HTMLInputElement>("input[type=text]")?.focus();
    latest.ask(undefined);
  });
}

/** What is wrong with an answer is told once it has been left, not while it is typed. */
function leave(target: EventTarget | null, left: Set<string>): void {
  const asked = target instanceof Element ? target.closest<HTMLElement>("[data-ask]") : null;
  if (asked?.dataset["ask"]) left.add(asked.dataset["ask"]);
}

function insert(form: HTMLFormElement, target: EventTarget | null): void {
  const button = target instanceof Element ? target.closest<HTMLElement>("[data-insert]") : null;
  const field = button && form.querySelector<HTMLInputElement>(`#${CSS.escape(button.dataset["into"] ?? "")}`);
  if (!button || !field) return;
  field.focus();
  field.setRangeText(` ${button.dataset["insert"] ?? ""} `, field.selectionStart ?? 0, field.selectionEnd ?? 0, "end");
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

function ask(form: HTMLFormElement, act: string): Promise<Answer> {
  const fields = new URLSearchParams();
  for (const [key, value] of new FormData(form)) {
    if (typeof value === "string" && value) fields.append(key, value);
  }
  fields.set("act", act);
  return send("POST", form.action, { form: fields });
}

function judged(form: HTMLFormElement, answer: Answer, left: Set<string>): void {
  unanswered(form, answer.kind === "unanswered");
  if (answer.kind !== "done" || !isSaid(answer.body)) return;
  showSaid(form, answer.body);
  showFaults(form, answer.body.faults, left);
}

function unanswered(form: HTMLFormElement, is: boolean): void {
  form.querySelector("[data-survey-unanswered]")?.toggleAttribute("hidden", !is);
}

async function keep(form: HTMLFormElement, name: string, latest: { drop(): void }): Promise<void> {
  const button = form.querySelector<HTMLButtonElement>("button[value=keep]");
  if (button?.disabled) return;
  if (button) button.disabled = true;
  latest.drop();
  hold(name, form);
  const answer = await ask(form, "keep");
  if (button) button.disabled = false;
  unanswered(form, answer.kind === "unanswered");
  if (answer.kind === "refused") {
    if (isSaid(answer.body)) showSaid(form, answer.body);
    showMissing(form, answer.body);
  }
  if (answer.kind !== "done") return;
  forget(name);
  location.assign(addressOf(answer.body));
}

function addressOf(body: unknown): string {
  const found = typeof body === "object" && body !== null && "address" in body ? body.address : "/";
  return typeof found === "string" && found.startsWith("/") ? found : "/";
}
