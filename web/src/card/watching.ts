/** A wait that is counted down, and a stopwatch; both on a clock that nobody can set. */
import { act, SECOND } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { el } from "./dom.ts";
import { clock, left, pressed, ran, STILL } from "./timing.ts";

/** What is written anew several times a second. */
const ticking = new WeakMap<Element, () => void>();

export function tickAll(root: ParentNode): void {
  root.querySelectorAll("[data-ticking]").forEach((one) => ticking.get(one)?.());
}

function tick<T extends Element>(one: T, write: () => void): T {
  one.setAttribute("data-ticking", "");
  ticking.set(one, write);
  write();
  return one;
}

/** A wait: started by hand, told when it is over. */
export function countdown(card: Card, id: string, seconds: number): HTMLElement {
  const { say } = card.words;
  const now = () => card.around.now();
  const words = () => {
    const watch = card.watch(id);
    const rest = left(watch, seconds, now());
    if (rest === 0) return say("card.watch.over", { seconds });
    return watch.since === null ? say("card.watch.start", { seconds }) : say("card.watch.running", { seconds: rest });
  };
  const does = () => {
    const over = left(card.watch(id), seconds, now()) === 0;
    card.setWatch(id, pressed(over || card.watch(id).since !== null ? STILL : card.watch(id), now()));
    if (!over && card.watch(id).since === null) card.setWatch(id, STILL);
  };
  const button = act(card, `${SECOND} card-wait`, "", does);
  const told = el("span", { role: "status", class: "unseen" });
  tick(button, () => {
    const over = left(card.watch(id), seconds, now()) === 0;
    button.textContent = words();
    button.toggleAttribute("data-over", over);
    if (over && told.textContent === "") {
      told.textContent = words();
      navigator.vibrate?.(400);
    }
    if (!over) told.textContent = "";
  });
  return el("div", { class: "card-timer" }, button, told);
}

const STOPWATCH = "stopwatch";

export function stopwatch(card: Card, door: Door): HTMLElement {
  const { say } = card.words;
  const now = () => card.around.now();
  const comma = (1.5).toLocaleString(card.words.language).charAt(1);
  const shown = el("output", { class: "card-stopwatch num" });
  tick(shown, () => (shown.textContent = clock(ran(card.watch(STOPWATCH), now()), comma)));
  const go = act(card, SECOND, "", () => card.setWatch(STOPWATCH, pressed(card.watch(STOPWATCH), now())));
  tick(go, () => {
    go.textContent = say(card.watch(STOPWATCH).since === null ? "card.watch.stopwatch_start" : "card.watch.stopwatch_stop");
  });
  const clear = act(card, SECOND, say("card.watch.stopwatch_clear"), () => card.setWatch(STOPWATCH, STILL));
  const keep = act(card, SECOND, say("card.watch.stopwatch_keep"), () => {
    const seconds = (ran(card.watch(STOPWATCH), now()) / 1000).toFixed(1).replace(".", comma);
    const text = say("card.watch.stopwatch_note", { step: door.pack.name, seconds });
    return card.keep(door, [{ kind: "note", said: { text } }], say("card.note.title"));
  });
  return el("section", { class: "card-watch" }, el("h2", {}, say("card.watch.stopwatch")), shown, el("div", { class: "card-row" }, go, clear, keep));
}
