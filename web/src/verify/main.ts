/**
 * The page on which sealed records are checked: files are dropped or chosen, and each is
 * told of on its own. What makes a firm known, or a device withdrawn, may be dropped too;
 * then every file is looked at anew.
 */
import "./verify.css";
import { send } from "../asking.ts";
import type { Table } from "../record/canonical.ts";
import { withdrawalOf } from "../record/certifying.ts";
import { chained, parentsOf } from "../record/chain.ts";
import { canCheck } from "../record/signing.ts";
import { CannotCheck, LARGEST, type Verified, verifyBytes } from "../record/verifying.ts";
import { carriedIn } from "./carried.ts";
import { type Firm, firmIn, kindOf, looksSealed } from "./kinds.ts";
import { type Hanging, show, showChains, showFirms, type Shown, tell } from "./showing.ts";
import { filled, grouped, type Inside, stateOf, told, typedDigest, type Words } from "./telling.ts";

interface Known {
  firms: (Firm & { readonly here: "desk" | "page" })[];
  withdrawn: Uint8Array[];
}

/** What a check found; of the desk with what a PDF carries. */
interface Found extends Verified {
  readonly inside?: Inside;
}

interface Looked extends Shown {
  readonly bytes: Uint8Array<ArrayBuffer> | null;
  /** Digests by which paper may name it: its own, and that of the record inside. */
  digests: string[];
  record: Table | null;
}

const LEAST_DIGITS = 8;

class Page {
  readonly #words: Words;
  readonly #known: Known;
  readonly #looked: Looked[] = [];
  readonly #able: Promise<boolean>;
  #work: Promise<void> = Promise.resolve();

  constructor(words: Words, known: { firms: Firm[]; withdrawn: string[] }) {
    this.#words = words;
    this.#able = canCheck();
    this.#known = {
      firms: known.firms.map((one) => ({ ...one, here: "desk" })),
      withdrawn: known.withdrawn.map((text) => new TextEncoder().encode(text)),
    };
  }

  async begin(): Promise<void> {
    tell("how", this.#words[(await this.#able) ? "here" : "desk"] ?? "");
    showFirms(this.#known.firms, this.#words);
    document.documentElement.dataset["checks"] = (await this.#able) ? "here" : "desk";
  }

  /** One after another, in the order in which they came. */
  take(files: readonly File[]): void {
    const taken = [...files];
    this.#work = this.#work.then(() => this.#takeAll(taken));
  }

  compare(typed: string): void {
    const digits = typedDigest(typed);
    tell("same", digits ? this.#compared(digits) : "");
  }

  #compared(digits: string): string {
    if (!/^[0-9a-f]+$/.test(digits) || digits.length < LEAST_DIGITS) return this.#words["paper.short"] ?? "";
    if (!this.#looked.length) return this.#words["paper.empty"] ?? "";
    const same = this.#looked.filter((one) => one.digests.some((digest) => digest.startsWith(digits)));
    const name = same.map((one) => one.name).join(", ");
    return name ? filled(this.#words["paper.same"] ?? "", { name }) : (this.#words["paper.none"] ?? "");
  }

  async #takeAll(files: readonly File[]): Promise<void> {
    let anew = false;
    for (const file of files) {
      tell("busy", filled(this.#words["checking"] ?? "", { name: file.name }));
      anew = (await this.#takeOne(file)) || anew;
    }
    if (anew) for (const one of this.#looked) await this.#look(one);
    tell("busy", "");
    this.#chain();
    showFirms(this.#known.firms, this.#words);
    document.querySelector("[data-verify-results]")?.scrollIntoView({ block: "nearest" });
  }

  /** Whether it changes what is known of firms and devices. */
  async #takeOne(file: File): Promise<boolean> {
    const bytes = await bytesOf(file);
    const kind = bytes ? kindOf(bytes) : "record";
    if (bytes && kind === "firm") return this.#takeFirm(bytes);
    if (bytes && kind === "withdrawal") return this.#takeWithdrawal(bytes);
    if (kind === "certificate") {
      tell("taken", this.#words["trust.certificate"] ?? "");
      return false;
    }
    const one: Looked = { name: file.name, bytes, item: show(file.name, this.#words), digests: [], record: null };
    this.#looked.push(one);
    await this.#look(one);
    return false;
  }

  #takeFirm(bytes: Uint8Array): boolean {
    const firm = firmIn(bytes);
    if (!firm) return false;
    const known = this.#known.firms.some((one) => one.key === firm.key);
    if (!known) this.#known.firms.push({ ...firm, here: "page" });
    const said = firm.name ? "trust.taken" : "trust.taken_bare";
    const taken = filled(this.#words[said] ?? "", { name: firm.name, key: grouped(firm.key) });
    tell("taken", `${taken}. ${this.#words["trust.compare"] ?? ""}`);
    return true;
  }

  async #takeWithdrawal(bytes: Uint8Array<ArrayBuffer>): Promise<boolean> {
    try {
      const said = await withdrawalOf(bytes);
      this.#known.withdrawn.push(bytes);
      tell("taken", filled(this.#words["trust.withdrawal"] ?? "", { key: grouped(said.firm), day: day(said.since) }));
      return true;
    } catch {
      tell("taken", this.#words["trust.broken"] ?? "");
      return false;
    }
  }

  async #look(one: Looked): Promise<void> {
    const { bytes } = one;
    if (!bytes) return one.item.say({ mark: "not asked", word: "word.unread", says: ["says.unread"] });
    const found = await this.#verified(bytes);
    if (!found) return one.item.say({ mark: "not asked", word: "word.unread", says: ["away"] });
    const inside = found.inside ?? (await insideOf(found, bytes));
    one.record = found.record ?? inside.record;
    one.digests = [found.digest, ...(inside.carried ? [inside.carried] : [])];
    one.item.tell(told(found, stateOf(found, looksSealed(bytes)), this.#words, inside, day));
  }

  /** By the page; else by the desk; null if neither can. */
  async #verified(bytes: Uint8Array<ArrayBuffer>): Promise<Found | null> {
    const withdrawn = this.#known.withdrawn;
    const firms = this.#known.firms.map((one) => one.key);
    if (await this.#able) {
      try {
        return await verifyBytes(bytes, { firms, withdrawn });
      } catch (why) {
        if (!(why instanceof CannotCheck)) throw why;
      }
    }
    return askDesk(bytes, this.#known);
  }

  #chain(): void {
    const names = new Map<string, string>();
    const doors = new Map<string, Map<string, string[]>>();
    for (const { record, digests, name } of this.#looked) {
      const digest = digests.at(-1); // of the record, if it came inside a PDF
      if (!record || !digest) continue;
      const door = [record["site"], record["name"] ?? record["doorway"]].filter((one) => typeof one === "string").join(", ");
      doors.set(door, (doors.get(door) ?? new Map<string, string[]>()).set(digest, parentsOf(record)));
      names.set(digest, name);
    }
    const hanging = [...doors].map(([door, parents]): Hanging => ({ door, chain: chained(parents) }));
    showChains(hanging, names, this.#words);
  }
}

async function insideOf(found: Verified, bytes: Uint8Array<ArrayBuffer>): Promise<Inside> {
  const carried = found.unchanged && !found.record ? await carriedIn(bytes) : null;
  return { record: carried?.record ?? null, carried: carried?.digest ?? "" };
}

/** What the desk finds, for a browser that cannot check by itself. */
async function askDesk(bytes: Uint8Array<ArrayBuffer>, known: Known): Promise<Found | null> {
  const form = new FormData();
  form.set("file", new Blob([bytes]));
  for (const one of known.firms) if (one.here === "page") form.append("firm", one.key);
  for (const one of known.withdrawn) form.append("withdrawn", new TextDecoder().decode(one));
  const answer = await send("POST", "/verify", { parts: form });
  if (answer.kind !== "done") return null;
  const said = answer.body as Verified & { carried: string };
  return { ...said, inside: { record: null, carried: said.carried } };
}

async function bytesOf(file: File): Promise<Uint8Array<ArrayBuffer> | null> {
  // One byte more than is checked: it is told that it is too large, and nothing is kept.
  try {
    return new Uint8Array(await file.slice(0, LARGEST + 1).arrayBuffer());
  } catch {
    return null;
  }
}

/** A day as the reader's language writes it; English keeps the way of files. */
function day(iso: string): string {
  const language = document.documentElement.lang;
  const at = new Date(`${iso}T00:00:00Z`);
  if (!iso || language === "en" || Number.isNaN(at.getTime())) return iso;
  return new Intl.DateTimeFormat(language, { dateStyle: "long", timeZone: "UTC" }).format(at);
}

function data<T>(id: string): T {
  return JSON.parse(document.getElementById(id)?.textContent ?? "null") as T;
}

function wire(page: Page): void {
  const over = (on: boolean) => document.querySelector("[data-verify-drop]")?.toggleAttribute("data-over", on);
  document.addEventListener("dragover", (event) => {
    if (!event.dataTransfer?.types.includes("Files")) return;
    event.preventDefault();
    over(true);
  });
  document.addEventListener("dragleave", (event) => event.relatedTarget === null && over(false));
  document.addEventListener("drop", (event) => {
    if (!event.dataTransfer?.types.includes("Files")) return;
    event.preventDefault();
    over(false);
    page.take([...event.dataTransfer.files]);
  });
  const input = document.querySelector<HTMLInputElement>("[data-verify-files]");
  input?.addEventListener("change", () => {
    page.take([...(input.files ?? [])]);
    input.value = "";
  });
  const typed = document.querySelector<HTMLInputElement>("[data-verify-digest]");
  typed?.addEventListener("input", () => page.compare(typed.value));
}

const page = new Page(data<Words>("verify-words"), data("verify-known"));
wire(page);
void page.begin();
