/**
 * Settings that are turned: slider, wheel, keys and typed value kept together.
 * The markup is the macro `knob` of parts.html.
 */
import { percent, shown, typed, written } from "./numbers.ts";

/** What is set: `text` is what a file takes, number and unit, or what was typed. */
export interface Change {
  key: string;
  value: number | null;
  unit: string;
  text: string;
  /** False while it is being turned. */
  settled: boolean;
}

/** The range in which all holds, with what is written at its ends. */
export interface Span {
  least: number;
  most: number;
  words?: readonly [string, string];
}

const WHEEL_RESTS = 300; // ms without a turn of the wheel

/** Listen to every knob in `root`, also to those that come into it later. */
export function wireKnobs(root: HTMLElement, change: (one: Change) => void): void {
  const tell = (knob: HTMLElement, settled: boolean) => change(read(knob, settled));
  root.addEventListener("input", (event) => {
    const knob = knobOf(event.target, "[data-knob]");
    if (!knob) return;
    show(knob);
    tell(knob, false);
  });
  root.addEventListener("change", (event) => {
    const turned = knobOf(event.target, "[data-knob]");
    if (turned) tell(turned, true);
    const entered = knobOf(event.target, "[data-knob-entry]");
    if (entered) enter(entered, change);
  });
  root.addEventListener("keydown", (event) => keyed(event, tell));
  wireWheel(root, tell);
}

/** Move the thumb and what is written beside it; says nothing to the listener. */
export function setValue(knob: HTMLElement, value: number): void {
  slider(knob).value = String(value);
  show(knob);
}

/** Move the hatched range, or take it away. */
export function setSpan(knob: HTMLElement, span: Span | null): void {
  const range = slider(knob);
  const [least, most] = [Number(range.min), Number(range.max)];
  const inside = span !== null && span.most >= least && span.least <= most;
  const drawn = knob.querySelector<SVGElement>("[data-knob-span]");
  drawn?.toggleAttribute("hidden", !inside);
  const holds = knob.querySelector<HTMLElement>("[data-knob-holds]");
  if (holds && !inside) holds.textContent = "";
  if (!inside || !drawn) return;
  const from = percent(span.least, least, most);
  const to = percent(span.most, least, most);
  place(drawn, from, to);
  const words = span.words ?? [shown(span.least, step(range)), shown(span.most, step(range))];
  write(drawn, from, to, words);
  if (holds) holds.textContent = said(holds.dataset["says"] ?? "", words);
}

/** Say what is wrong with what was typed; with null, that nothing is. */
export function setFault(knob: HTMLElement, fault: string | null): void {
  const place = knob.querySelector<HTMLElement>("[data-knob-fault]");
  if (place) {
    place.hidden = fault === null;
    place.textContent = fault;
  }
  entry(knob).setAttribute("aria-invalid", String(fault !== null));
}

// Parts ---------------------------------------------------------------------------

function knobOf(target: EventTarget | null, part: string): HTMLElement | null {
  if (!(target instanceof Element) || !target.matches(part)) return null;
  return target.closest<HTMLElement>(".knob");
}

function slider(knob: HTMLElement): HTMLInputElement {
  return knob.querySelector<HTMLInputElement>("[data-knob]")!;
}

function entry(knob: HTMLElement): HTMLInputElement {
  return knob.querySelector<HTMLInputElement>("[data-knob-entry]")!;
}

function step(range: HTMLInputElement): number {
  return Number(range.step) || 1;
}

function read(knob: HTMLElement, settled: boolean): Change {
  const range = slider(knob);
  const unit = knob.dataset["unit"] ?? "";
  const value = range.valueAsNumber;
  const text = `${range.value} ${unit}`.trim();
  return { key: range.name, value, unit, text, settled };
}

function show(knob: HTMLElement): void {
  const range = slider(knob);
  const text = shown(range.valueAsNumber, step(range));
  entry(knob).value = text;
  range.setAttribute("aria-valuetext", `${text} ${knob.dataset["unitShown"] ?? ""}`.trim());
  setFault(knob, null);
}

/** A number moves the slider; anything else goes to the server as it was typed. */
function enter(knob: HTMLElement, change: (one: Change) => void): void {
  const range = slider(knob);
  const text = entry(knob).value.trim();
  const value = typed(text, knob.dataset["unitShown"] ?? "");
  if (value === null) {
    change({ key: range.name, value, unit: "", text, settled: true });
    return;
  }
  const unit = knob.dataset["unit"] ?? "";
  // The slider rounds to its step and ends; what was typed is what counts.
  range.value = String(value);
  entry(knob).value = text.includes("/") ? text : written(String(value));
  range.setAttribute("aria-valuetext", `${entry(knob).value} ${knob.dataset["unitShown"] ?? ""}`.trim());
  const entered = { key: range.name, value, unit, text: `${value} ${unit}`.trim() };
  change({ ...entered, settled: false }); // the quick look, as while turning
  change({ ...entered, settled: true });
}

function keyed(event: KeyboardEvent, tell: (knob: HTMLElement, settled: boolean) => void): void {
  const knob = knobOf(event.target, "[data-knob-entry]");
  const turns = { ArrowUp: 1, ArrowDown: -1 }[event.key];
  if (!knob || turns === undefined) return;
  event.preventDefault();
  turn(knob, turns);
  tell(knob, false);
  tell(knob, true);
}

function turn(knob: HTMLElement, steps: number): void {
  const range = slider(knob);
  if (steps > 0) range.stepUp(steps);
  else range.stepDown(-steps);
  show(knob);
}

/** The wheel turns only the slider that has the focus: else the page scrolls. */
function wireWheel(root: HTMLElement, tell: (knob: HTMLElement, settled: boolean) => void): void {
  let rests = 0;
  const wheeled = (event: WheelEvent) => {
    const knob = knobOf(event.target, "[data-knob]");
    if (!knob || event.target !== document.activeElement || event.deltaY === 0) return;
    event.preventDefault();
    turn(knob, event.deltaY < 0 ? 1 : -1);
    tell(knob, false);
    clearTimeout(rests);
    rests = setTimeout(() => tell(knob, true), WHEEL_RESTS);
  };
  root.addEventListener("wheel", wheeled, { passive: false });
}

// The hatched range ---------------------------------------------------------------

function place(drawn: SVGElement, from: number, to: number): void {
  const [left, right] = [`${from}%`, `${to}%`];
  const window = drawn.querySelector(".knob-window");
  window?.setAttribute("x", left);
  window?.setAttribute("width", `${to - from}%`);
  drawn.querySelectorAll(".knob-edge").forEach((edge, index) => {
    edge.setAttribute("x1", index ? right : left);
    edge.setAttribute("x2", index ? right : left);
  });
}

const ROOM = 34; // % of the slider that two numbers need between them

/** Both numbers under their ends; close together they stand in one line outside. */
function write(drawn: SVGElement, from: number, to: number, words: readonly [string, string]): void {
  const [first, second] = drawn.querySelectorAll<SVGTextElement>(".knob-end");
  if (!first || !second) return;
  if (to - from >= ROOM) {
    put(first, from, "start", words[0]);
    put(second, to, "end", words[1]);
    return;
  }
  const middle = (from + to) / 2;
  const anchor = middle < 20 ? "start" : middle > 80 ? "end" : "middle";
  put(first, anchor === "start" ? from : anchor === "end" ? to : middle, anchor, [...new Set(words)].join(" – "));
  put(second, to, "end", "");
}

function said(sentence: string, words: readonly [string, string]): string {
  return sentence.replace("{least}", words[0]).replace("{most}", words[1]);
}

function put(text: SVGTextElement, at: number, anchor: string, words: string): void {
  text.setAttribute("x", `${at}%`);
  text.setAttribute("text-anchor", anchor);
  text.textContent = words;
}
