/** The whole list, any step of it a tap away; and all else that can be done at a door. */
import { SECOND } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { changedNote } from "./changed_words.ts";
import { el, svg, type Child } from "./dom.ts";
import type { Screen } from "./frame.ts";
import { toDoor } from "./routes.ts";
import { lines, type Line, type Mark, type Part } from "./steps.ts";
import { stopwatch } from "./watching.ts";

/** The marks of the drawings: a square holds, a cross fails, a dash was not tested. */
const SQUARE = "M3 3H17V17H3Z";
const CROSS = "M3 3L17 17M17 3L3 17";
const DASH = "M2 10H18";
const MARKS: Record<Mark, string> = {
  "to do": SQUARE,
  done: SQUARE,
  good: SQUARE,
  touched: CROSS,
  "lamp only": CROSS,
  cannot: DASH,
  again: `${SQUARE}M10 6V11M10 13V14.5`,
};

export function listScreen(card: Card, door: Door): Screen {
  const { say } = card.words;
  const all = lines(door.pack, door.visit, (part) => say(`card.part.${part}`));
  const group = (title: string, ...parts: Part[]): Child => {
    const within = all.filter((one) => parts.includes(one.part));
    if (!within.length) return null;
    return el("section", { class: "card-group" }, el("h2", {}, title), el("ul", {}, within.map((one) => line(card, door, one))));
  };
  return {
    title: say("card.list"),
    kind: "list",
    body: [
      changedNote(card, door),
      group(say("card.group.before"), "start", "precaution", "as_found", "trace"),
      group(say("card.group.work"), "work"),
      group(say("card.group.tests"), "test"),
      group(say("card.group.places"), "place"),
      group(say("card.group.after"), "after", "hand_over", "seal"),
    ],
    acts: el("a", { class: "card-do", href: toDoor(door.key) }, say("card.next")),
  };
}

function line(card: Card, door: Door, one: Line): HTMLElement {
  const { say } = card.words;
  const changed = one.mark === "to do" && one.changed;
  const word = changed ? "card.change.mark" : one.mark === "to do" && !one.asked ? "card.mark.not_asked" : `card.mark.${one.mark.replace(" ", "_")}`;
  return el(
    "li",
    {},
    el(
      "a",
      { class: "card-line", href: toDoor(door.key, screenOf(one.part), one.id), data: { mark: one.mark.replace(" ", "-") } },
      el("span", { class: "card-mark", "aria-hidden": "true" }, one.mark === "to do" && !one.asked ? "" : sign(one.mark)),
      el("span", { class: "card-line-name" }, one.title),
      el("span", { class: "card-line-word" }, say(word)),
    ),
  );
}

function sign(mark: Mark): SVGElement {
  return svg("svg", { viewBox: "0 0 20 20" }, svg("path", { d: MARKS[mark] }));
}

/** On which screen a part of the visit is done. */
export function screenOf(part: Part): string {
  if (part === "test" || part === "place") return "step";
  return part === "after" ? "work" : part;
}

export function moreScreen(card: Card, door: Door): Screen {
  const { say } = card.words;
  const go = (screen: string, key: string) => el("li", {}, el("a", { class: SECOND, href: toDoor(door.key, screen) }, say(key)));
  return {
    title: say("card.more"),
    kind: "more",
    body: [
      el(
        "ul",
        { class: "card-menu" },
        go("defect", "card.defect.title"),
        go("photo", "card.photo.title"),
        go("note", "card.note.title"),
        go("readings", "card.readings.title"),
        door.pack.trace ? go("trace", "card.trace.title") : null,
        go("hand_over", "card.part.hand_over"),
      ),
      stopwatch(card, door),
      el(
        "ul",
        { class: "card-menu" },
        el("li", {}, el("a", { class: SECOND, href: "#/settings" }, say("card.settings.title"))),
        el("li", {}, el("a", { class: SECOND, href: "#/" }, say("card.home.title"))),
      ),
    ],
  };
}
