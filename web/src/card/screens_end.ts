/** How the door is left, to whom it is said, and the record. */
import { act, choice, fault, field, MAIN, noFaults, SECOND, typed } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { el, type Child } from "./dom.ts";
import type { State } from "./events.ts";
import type { Screen } from "./frame.ts";
import { toDoor } from "./routes.ts";
import { saved } from "./saving.ts";
import { lines, settled } from "./steps.ts";
import { pad } from "./signing_field.ts";

const STATES: readonly State[] = ["in use", "in use with defects", "out of use"];
const KEYS: Record<State, string> = { "in use": "in_use", "in use with defects": "with_defects", "out of use": "out_of_use" };

export function handOverScreen(card: Card, door: Door): Screen {
  const { say } = card.words;
  const before = door.visit.handed?.said;
  const states = STATES.map((value) => ({ value, words: say(`card.hand_over.${KEYS[value]}`) }));
  const told = before?.told ?? door.visit.defects.at(-1)?.said.told ?? "";
  const signed = pad(say("card.hand_over.signature"), say("card.hand_over.sign_here"));
  const root = el(
    "div",
    { class: "card-form" },
    choice("state", say("card.hand_over.what"), states, before?.state ?? ""),
    field("told", say("card.hand_over.told"), { value: told }),
    el("div", { class: "card-field" }, el("span", {}, say("card.hand_over.signature")), signed.element),
    act(card, SECOND, say("card.hand_over.clear"), () => signed.clear()),
  );
  const keep = () => {
    noFaults(root);
    const [state, who] = [typed(root, "state") as State | "", typed(root, "told")];
    if (!state) return fault(root, "state", say("card.hand_over.choose"));
    if (state === "in use with defects" && !who) return fault(root, "told", say("card.hand_over.told_missing"));
    const said = { state, ...(who ? { told: who } : {}), signature: signed.strokes() };
    const says = say("card.hand_over.handed", { state: say(`card.hand_over.${KEYS[state]}`) });
    return card.keep(door, [{ kind: "handed_over", said }], says, { to: toDoor(door.key, "seal") });
  };
  return {
    title: say("card.hand_over.title"),
    kind: "hand_over",
    body: [open(card, door), root],
    acts: act(card, MAIN, say(before ? "card.hand_over.again" : "card.hand_over.keep"), keep),
  };
}

/** What has no answer and what failed: said before a person chooses. */
function open(card: Card, door: Door): Child {
  const { count, say } = card.words;
  const asked = lines(door.pack, door.visit, () => "").filter((one) => ["test", "place"].includes(one.part));
  const none = asked.filter((one) => one.part === "test" && !settled(one.mark)).length;
  const failed = asked.filter((one) => one.mark === "touched" || one.mark === "lamp only").length;
  const defects = door.visit.defects.map((one) => el("li", {}, one.said.text));
  return [
    el("p", {}, count("card.hand_over.open", none)),
    failed ? el("p", { class: "card-failing" }, el("span", { "aria-hidden": "true" }, "✕ "), count("card.hand_over.failed", failed)) : null,
    defects.length ? el("section", {}, el("h2", {}, say("card.defect.list")), el("ul", { class: "card-read" }, defects)) : null,
  ];
}

/** What a sealing device can do here; null where the desk seals. */
export interface Sealing {
  /** `none` the browser has no such keys or none was made, `open` not certified, `ready`. */
  state: "none" | "open" | "ready";
  seal(door: Door): Promise<{ text: string; digest: string; key: string }>;
}

export function sealScreen(card: Card, door: Door, sealing: Sealing | null): Screen {
  const { say } = card.words;
  const { handed, sealed } = door.visit;
  const title = say("card.seal.title");
  if (!handed) {
    return {
      title,
      kind: "seal",
      body: el("p", {}, say("card.seal.first")),
      acts: el("a", { class: MAIN, href: toDoor(door.key, "hand_over") }, say("card.part.hand_over")),
    };
  }
  if (sealed) return sealedScreen(card, door, title);
  const ready = sealing?.state === "ready";
  const how = ready ? "card.seal.by_device" : sealing?.state === "open" ? "card.seal.no_certificate" : "card.seal.by_desk";
  const sync = card.around.sync;
  const sent = sync !== null && sync.state.waiting === 0 && sync.state.kind === "rest";
  return {
    title,
    kind: "seal",
    body: [left(card, door), el("p", {}, say(how)), sync ? null : el("p", {}, say("card.settings.file_what")), !ready && sent ? el("p", {}, say("card.seal.ready")) : null, clash(card, door), ready ? null : onDesk(card, door)],
    acts: ready
      ? act(card, MAIN, say("card.seal.go"), () => seal(card, door, sealing))
      : sync && !sent
        ? act(card, MAIN, say("card.seal.send"), () => void sync.run())
        : sync
          ? null
          : act(card, MAIN, say("card.settings.file"), () => void saved(card)),
  };
}

async function seal(card: Card, door: Door, sealing: Sealing): Promise<boolean> {
  const { text, digest, key } = await sealing.seal(door);
  const sealed = { ...door.of, text, sent: false };
  return card.keep(door, [{ kind: "sealed", said: { digest, key, by: "device" } }], "", { sealed, to: toDoor(door.key, "seal") });
}

function sealedScreen(card: Card, door: Door, title: string): Screen {
  const { say } = card.words;
  const said = door.visit.sealed?.said;
  return {
    title,
    kind: "seal",
    body: [
      left(card, door),
      el("p", { class: "card-large" }, say(said?.by === "desk" ? "card.seal.done_desk" : "card.seal.done")),
      el("p", { class: "card-digest" }, say("card.seal.digest", { digest: (said?.digest ?? "").replace(/.{8}(?=.)/g, "$& ") })),
      el("p", {}, say("card.seal.closed")),
      onDesk(card, door),
    ],
    acts: el("a", { class: SECOND, href: "#/" }, say("card.home.title")),
  };
}

function left(card: Card, door: Door): Child {
  const { say } = card.words;
  const handed = door.visit.handed?.said;
  if (!handed) return null;
  const words = [
    say("card.hand_over.handed", { state: say(`card.hand_over.${KEYS[handed.state]}`) }),
    handed.told ? say("card.hand_over.told_to", { name: handed.told }) : "",
    say(handed.signature.length ? "card.hand_over.signed" : "card.hand_over.unsigned"),
  ];
  return el("p", {}, words.filter(Boolean).join(" · "));
}

function clash(card: Card, _door: Door): Child {
  return card.around.sync?.state.clash ? el("p", { class: "card-failing" }, card.words.say("card.sync.clash")) : null;
}

function onDesk(card: Card, door: Door): Child {
  if (!card.around.sync) return null;
  const to = `/sites/${door.of.site}/doorways/${door.of.doorway}/visits/${door.of.visit}`;
  return el("p", {}, el("a", { class: "card-link", href: to }, card.words.say("card.sync.visit")));
}
