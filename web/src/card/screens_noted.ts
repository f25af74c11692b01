/** Notes, photos, defects: said in a few taps, from any step. */
import { act, fault, field, MAIN, noFaults, SECOND, typed } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { el } from "./dom.ts";
import type { Draft } from "./events.ts";
import type { Screen } from "./frame.ts";
import { shrunk, type Picture } from "./photo.ts";
import { toDoor } from "./routes.ts";
import { answerWords } from "./screens_step.ts";

export function noteScreen(card: Card, door: Door): Screen {
  const { say } = card.words;
  const root = el("div", { class: "card-form" }, field("text", say("card.note.text"), { long: true }));
  const keep = () => {
    noFaults(root);
    const text = typed(root, "text");
    if (!text) return fault(root, "text", say("card.note.missing"));
    return card.keep(door, [{ kind: "note", said: { text } }], say("card.note.title"));
  };
  const kept = door.visit.notes.map((one) => el("li", {}, one.said.text));
  return {
    title: say("card.note.title"),
    kind: "note",
    body: [root, kept.length ? el("ul", { class: "card-read" }, kept) : null],
    acts: act(card, MAIN, say("card.note.keep"), keep),
  };
}

export function photoScreen(card: Card, door: Door, step: string): Screen {
  const { say } = card.words;
  const test = door.pack.tests.find((one) => one.id === step);
  const input = el("input", { type: "file", accept: "image/*", capture: "environment", class: "unseen", id: "f-photo", "aria-label": say("card.photo.take") });
  const told = el("p", { class: "card-fault", role: "alert" });
  input.addEventListener("change", () => void took(card, door, input, test?.title ?? "", told));
  const of = test ? el("p", {}, say("card.photo.of_step", { step: test.title })) : null;
  const kept = door.visit.photos.map((one) => el("li", {}, shown(card, one.said)));
  return {
    title: say("card.photo.title"),
    kind: "photo",
    body: [of, el("p", { class: "card-quiet" }, say("card.photo.what")), told, input, kept.length ? el("ul", { class: "card-photos" }, kept) : el("p", { class: "card-quiet" }, say("card.photo.none"))],
    acts: [act(card, MAIN, say("card.photo.take"), () => input.click()), el("a", { class: SECOND, href: toDoor(door.key) }, say("card.skip"))],
  };
}

async function took(card: Card, door: Door, input: HTMLInputElement, of: string, told: HTMLElement): Promise<void> {
  const file = input.files?.[0];
  if (!file) return;
  told.textContent = "";
  let picture: Picture;
  try {
    picture = await shrunk(file);
  } catch {
    told.textContent = card.words.say("card.photo.cannot");
    input.value = "";
    return;
  }
  const { blob, sha256, width, height } = picture;
  const name = card.words.say("card.photo.name", { number: door.visit.photos.length + 1 });
  const said = { name, sha256, bytes: blob.size, width, height, ...(of ? { of } : {}) };
  const photo = { sha256, file: blob, ...door.of, sent: false };
  const says = card.words.say("card.photo.kept", { name, width, height });
  await card.keep(door, [{ kind: "photo", said }], says, { photo, to: toDoor(door.key, "photo") });
}

function shown(card: Card, said: { name: string; sha256: string; width: number; height: number; of?: string }): HTMLElement {
  const file = card.photos.find((one) => one.sha256 === said.sha256)?.file;
  const image = file ? el("img", { src: URL.createObjectURL(file), alt: said.of ?? said.name, width: said.width, height: said.height }) : null;
  image?.addEventListener("load", () => URL.revokeObjectURL(image.src));
  return el("figure", {}, image, el("figcaption", {}, said.of ? `${said.name}: ${said.of}` : said.name));
}

export function defectScreen(card: Card, door: Door, step: string): Screen {
  const { say } = card.words;
  const told = door.visit.defects.at(-1)?.said.told ?? door.visit.handed?.said.told ?? "";
  const root = el(
    "div",
    { class: "card-form" },
    field("text", say("card.defect.text"), { long: true, value: proposed(card, door, step) }),
    field("told", say("card.defect.told"), { value: told, help: say("card.defect.told_help") }),
  );
  const keep = (to: string) => {
    noFaults(root);
    const [text, who] = [typed(root, "text"), typed(root, "told")];
    if (!text) return fault(root, "text", say("card.defect.missing"));
    const said: Draft = { kind: "defect", said: { text, ...(who ? { told: who } : {}) } };
    return card.keep(door, [said], say("card.defect.title"), { to });
  };
  const kept = door.visit.defects.map((one) => el("li", {}, one.said.text));
  return {
    title: say("card.defect.title"),
    kind: "defect",
    body: [kept.length ? el("ul", { class: "card-read" }, kept) : null, root],
    acts: [
      act(card, MAIN, say("card.defect.hand_over"), () => keep(toDoor(door.key, "hand_over"))),
      act(card, SECOND, say("card.defect.keep"), () => keep(toDoor(door.key))),
    ],
  };
}

/** The words of the test that failed, to be kept or written over. */
function proposed(card: Card, door: Door, step: string): string {
  const test = door.pack.tests.find((one) => one.id === step);
  const given = door.visit.answers.get(step);
  if (!test || !given) return "";
  return card.words.say("card.defect.from_test", { test: test.title, answer: answerWords(card, test, given.said.answer) });
}
