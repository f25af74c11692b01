/** What stands around every screen: where one is, how far, whether all is kept. */
import type { Card, Door, Screening } from "./app.ts";
import { el, fill, type Child } from "./dom.ts";
import { toDoor } from "./routes.ts";
import { progress } from "./steps.ts";
import type { SyncState } from "./sync.ts";
import { Unkept } from "./unkept.ts";

export interface Screen {
  /** The one thing, large. */
  title: string;
  /** What a screen is, for the style sheet. */
  kind: string;
  /** Of which step it is. */
  of?: string;
  drawing?: Child;
  body: Child;
  acts?: Child;
}

export type Screens = (card: Card) => Screen;

export class Frame implements Screening {
  readonly #root: HTMLElement;
  readonly #screens: Screens;
  #top = el("header");
  #undo = el("div");
  #trouble = el("p");
  #unkept: Unkept | null = null;

  constructor(root: HTMLElement, screens: Screens) {
    this.#root = root;
    this.#screens = screens;
  }

  show(card: Card): void {
    const screen = this.#screens(card);
    const title = el("h1", { class: "card-title", tabindex: "-1" }, screen.title);
    this.#top = el("header", { class: "card-top" });
    this.#undo = el("div", { class: "card-undo", role: "status", hidden: !card.undo?.says });
    this.#trouble = el("p", { class: "card-trouble", role: "alert" });
    const main = el(
      "main",
      { class: "card-main", id: "main", data: { screen: screen.kind, ...(screen.of ? { of: screen.of } : {}) } },
      this.#undo,
      screen.drawing ? el("div", { class: "card-drawing" }, screen.drawing) : null,
      el("div", { class: "card-body" }, title, screen.body),
      // Beside what was pressed, so that it is seen.
      el("div", { class: "card-acts" }, this.#trouble, screen.acts),
    );
    this.#root.replaceChildren(this.#top, main);
    this.#root.dataset["screen"] = screen.kind;
    const door = doorOf(card);
    this.#unkept = door && new Unkept(main, [door.of.visit, screen.kind, screen.of ?? ""].join(" "));
    document.title = `${screen.title} · limen`;
    this.tell(card);
    scrollTo(0, 0);
    title.focus({ preventScroll: true });
  }

  kept(): void {
    this.#unkept?.forget();
  }

  tell(card: Card): void {
    const door = doorOf(card);
    this.#root.toggleAttribute("data-left", card.choices.left);
    this.#root.dataset["kept"] = String(card.events.length);
    const top = door ? doorTop(card, door) : plainTop(card);
    // What has the focus stays: only words and marks change while one is on a screen.
    if (this.#top.childElementCount) this.#retell(top);
    else fill(this.#top, top);
    this.#trouble.textContent = card.trouble ?? "";
    this.#trouble.hidden = !card.trouble;
    this.#tellUndo(card);
  }

  /** What changes by itself, several times a second. */
  tick(card: Card): void {
    this.#tellUndo(card);
  }

  #retell(top: Node[]): void {
    for (const one of top) {
      if (!(one instanceof HTMLElement) || !one.dataset["told"]) continue;
      const old = this.#top.querySelector(`[data-told="${one.dataset["told"]}"]`);
      if (old && old.outerHTML !== one.outerHTML) old.replaceWith(one);
    }
  }

  #tellUndo(card: Card): void {
    const undo = card.undo;
    // Where it stood its room stays, until the next screen: nothing moves under a thumb.
    this.#undo.toggleAttribute("data-over", !undo?.says);
    if (!undo?.says) {
      this.#undo.replaceChildren();
      return;
    }
    this.#undo.hidden = false;
    const seconds = card.words.say("card.undo_left", { seconds: Math.ceil(undo.left / 1000) });
    const shown = this.#undo.querySelector("[data-seconds]");
    if (shown && this.#undo.dataset["says"] === undo.says) {
      shown.textContent = seconds;
      return;
    }
    this.#undo.dataset["says"] = undo.says;
    this.#undo.replaceChildren(
      el("span", { class: "card-undo-says" }, card.words.say("card.kept_last", { what: undo.says })),
      el(
        "button",
        { class: "card-undo-do", type: "button", onclick: () => void card.takeBack() },
        card.words.say("card.undo"),
        " ",
        el("span", { "aria-hidden": "true", class: "num", data: { seconds: "" } }, seconds),
      ),
    );
  }
}

function doorOf(card: Card): Door | null {
  return card.place.at === "door" ? card.door(card.place.key) : null;
}

function plainTop(card: Card): Node[] {
  const { say } = card.words;
  const home = card.place.at === "home";
  return [
    home
      ? el("a", { class: "card-go", href: "/" }, "limen")
      : el("a", { class: "card-go", href: "#/" }, say("card.home.title")),
    el("p", { class: "card-where", data: { told: "where" } }, el("span", { class: "card-state" }, stateOf(card))),
    home ? el("a", { class: "card-go", href: "#/settings" }, say("card.home.settings")) : el("span"),
  ];
}

function doorTop(card: Card, door: Door): Node[] {
  const { say } = card.words;
  const { done, of } = progress(door.pack, door.visit);
  const screen = card.place.at === "door" ? card.place.screen : "";
  const counted = door.visit.started ? say("card.progress.steps", { done, of }) : "";
  const go = (to: string, key: string) =>
    screen === to
      ? el("a", { class: "card-go", href: toDoor(door.key) }, say("card.close"))
      : el("a", { class: "card-go", href: toDoor(door.key, to) }, say(key));
  return [
    go("list", "card.list"),
    el(
      "p",
      { class: "card-where", data: { told: "where" } },
      el("span", { class: "card-name" }, door.pack.name),
      el("span", { class: "card-state", role: "status" }, [counted, stateOf(card)].filter(Boolean).join(" · ")),
    ),
    go("more", "card.more"),
    el("progress", {
      class: "card-progress",
      max: String(Math.max(of, 1)),
      value: String(done),
      "aria-label": say("card.progress.spoken", { done, of }),
      data: { told: "progress" },
    }),
  ];
}

/** Whether all is kept, and whether the desk has it. */
function stateOf(card: Card): string {
  const { say, count } = card.words;
  const sync: SyncState | undefined = card.around.sync?.state;
  if (!sync) return card.events.length ? say("card.sync.kept") : "";
  if (sync.kind === "sending") return say("card.sync.sending");
  if (sync.waiting) return count("card.sync.waiting", sync.waiting);
  return card.events.length ? say("card.sync.all") : "";
}
