/** What was taken along, and how this device is set. */
import { act, choice, MAIN, SECOND } from "./acts.ts";
import type { Card } from "./app.ts";
import { el, type Child } from "./dom.ts";
import type { Choices, Taken } from "./store.ts";
import type { Screen } from "./frame.ts";
import { toDoor } from "./routes.ts";
import { saved } from "./saving.ts";
import { progress } from "./steps.ts";
import { fold } from "./folding.ts";

/** What the browser allows here. */
export interface Here {
  /** Whether the page may work without network. */
  trusted: boolean;
  /** Whether it is ready to. */
  ready: boolean;
  /** Whether what is kept stays when room is short. */
  lasting: boolean;
  /** Whether a desk stands behind the page. */
  desk: boolean;
}

export function homeScreen(card: Card, here: Here): Screen {
  const { say } = card.words;
  const sync = card.around.sync?.state;
  return {
    title: say("card.home.title"),
    kind: "home",
    body: [
      here.trusted || !here.desk ? null : apart(card),
      card.taken.length ? el("ul", { class: "card-doors" }, card.taken.map((one) => taken(card, one))) : el("p", {}, say("card.home.none")),
      sync?.kind === "unanswered" ? el("p", { class: "card-quiet" }, say("card.sync.unanswered")) : null,
      sync?.kind === "refused" ? el("p", { class: "card-failing" }, say("card.sync.refused", { why: sync.why })) : null,
      sync?.clash ? el("p", { class: "card-failing" }, say("card.sync.clash")) : null,
      sync?.waiting ? act(card, SECOND, say("card.sync.now"), () => void card.around.sync?.run()) : null,
      el("p", { class: "card-quiet" }, say(here.lasting ? "card.storage.lasting" : "card.storage.passing")),
      here.desk && here.trusted ? el("p", { class: "card-quiet" }, say(here.ready ? "card.home.offline_ready" : "card.home.offline_not")) : null,
      el("p", { class: "card-quiet" }, say("card.caution")),
    ],
    acts: here.desk ? el("a", { class: SECOND, href: "/" }, say("card.home.desk")) : null,
  };
}

function apart(card: Card): Child {
  const { say } = card.words;
  return el("section", { class: "card-apart-note" }, el("h2", {}, say("card.apart.title")), el("p", {}, say("card.apart.why")), el("p", {}, say("card.apart.how")));
}

function taken(card: Card, one: Taken): HTMLElement {
  const { say } = card.words;
  const visit = fold(card.eventsOf(one.visit));
  const { done, of } = progress(one.pack, visit);
  const how = visit.sealed ? say("card.home.finished") : visit.started ? say("card.progress.spoken", { done, of }) : "";
  const day = new Date(one.pack.made).toLocaleDateString(card.words.language, { dateStyle: "medium" });
  const go = visit.sealed ? "card.part.seal" : visit.started ? "card.home.go_on" : "card.home.begin";
  const anew = async () => {
    await card.take(one.pack, true);
    location.hash = toDoor(one.key);
  };
  const leave = () => {
    if (confirm(say("card.home.leave_sure", { name: one.pack.name }))) void card.leave(one.key);
  };
  return el(
    "li",
    { class: "card-door" },
    el("h2", {}, one.pack.name),
    el("p", {}, one.pack.card.site),
    el("p", { class: "card-quiet" }, [say("card.home.made", { day, version: one.pack.version }), how].filter(Boolean).join(" · ")),
    el("a", { class: MAIN, href: toDoor(one.key) }, say(go)),
    el(
      "div",
      { class: "card-row" },
      visit.handed ? act(card, SECOND, say("card.home.new"), anew) : null,
      card.around.sync ? el("a", { class: SECOND, href: `#/take/${one.key}` }, say("card.take.again")) : null,
      act(card, SECOND, say("card.home.leave"), leave),
    ),
  );
}

export function settingsScreen(card: Card, extra: Child): Screen {
  const { say, count } = card.words;
  const set = (choices: Partial<Choices>) => {
    void card.choose(choices).then(() => apply(card.choices));
  };
  const hands = ["right", "left"].map((value) => ({ value, words: say(`card.settings.${value}`) }));
  const themes = ["device", "paper", "slate"].map((value) => ({ value, words: say(`card.settings.theme_${value}`) }));
  const awake = ["on", "off"].map((value) => ({ value, words: say(`card.settings.awake_${value}`) }));
  return {
    title: say("card.settings.title"),
    kind: "settings",
    body: [
      el(
        "div",
        { class: "card-form" },
        choice("hand", say("card.settings.hand"), hands, card.choices.left ? "left" : "right", (value) => set({ left: value === "left" })),
        choice("theme", say("card.settings.theme"), themes, card.choices.theme, (value) => set({ theme: value as Choices["theme"] })),
        choice("awake", say("card.settings.awake"), awake, card.choices.awake ? "on" : "off", (value) => set({ awake: value === "on" })),
      ),
      el("section", {}, el("h2", {}, say("card.settings.device")), el("p", {}, count("card.settings.kept", card.events.length))),
      card.events.length ? el("p", {}, say("card.settings.file_what")) : null,
      card.events.length ? act(card, SECOND, say("card.settings.file"), () => void saved(card)) : null,
      extra,
    ],
    acts: el("a", { class: SECOND, href: "#/" }, say("card.home.title")),
  };
}

/** The light that a person chose for the card. */
export function apply(choices: Choices): void {
  const page = document.documentElement;
  if (choices.theme === "device") delete page.dataset["theme"];
  else page.dataset["theme"] = choices.theme;
}
