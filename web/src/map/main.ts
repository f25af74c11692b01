/**
 * The margin map: asked for at rest, first coarse and then fine, dimmed
 * while something is turned, one place said when it is pointed at.
 */
import "./map.css";
import { send } from "../asking.ts";
import { Latest } from "../doorway/latest.ts";
import { linesOf } from "../doorway/replies.ts";
import { Layer, type Piece } from "./layer.ts";
import type { Mapped, PlaceSaid } from "./replies.ts";

export function wireMap(root: HTMLElement): void {
  const place = root.querySelector<HTMLElement>("[data-map]");
  const words = root.querySelector<HTMLElement>("[data-map-words]");
  const radio = root.querySelector<HTMLInputElement>('[name="view"][value="room"]');
  if (!place || !words || !radio) return;
  new MarginMap(root, place, words, radio);
  // The page comes without this drawing: it is asked for as if it were chosen now.
  if (radio.checked) radio.dispatchEvent(new Event("change", { bubbles: true }));
}

class MarginMap {
  readonly #root: HTMLElement;
  readonly #place: HTMLElement;
  readonly #words: HTMLElement;
  readonly #sheet: HTMLElement;
  readonly #radio: HTMLInputElement;
  readonly #saying: Latest<Piece, string | null>;
  #layer: Layer | null = null;
  #fine = false;
  #finding = "";
  #under: AbortController | null = null;
  /** The drawing on which the map was asked for. */
  #of: Element | null = null;

  constructor(root: HTMLElement, place: HTMLElement, words: HTMLElement, radio: HTMLInputElement) {
    this.#root = root;
    this.#place = place;
    this.#words = words;
    this.#radio = radio;
    this.#sheet = place.querySelector<HTMLElement>("[data-sheet]")!;
    this.#saying = new Latest(
      (piece) => this.#said(piece),
      (said) => said && this.#layer?.say(said),
    );
    this.#watch();
  }

  /** The page says by these how it stands: a new drawing, and whether it is of now. */
  #watch(): void {
    const seen = new MutationObserver(() => this.#changed());
    seen.observe(this.#sheet, { childList: true });
    const next = this.#root.querySelector("[data-next]");
    if (next) seen.observe(next, { attributes: true, attributeFilter: ["data-waiting"] });
    this.#root.addEventListener("change", () => this.#radio.checked || this.#under?.abort());
  }

  #changed(): void {
    const drawn = this.#drawing();
    const waits = this.#root.querySelector("[data-next]")?.hasAttribute("data-waiting") ?? false;
    if (!this.#radio.checked || !drawn) return;
    if (waits) this.#stale();
    else if (drawn !== this.#of) void this.#load();
  }

  #stale(): void {
    this.#under?.abort();
    this.#of = null;
    this.#layer?.stale(true);
    this.#state(this.#word("moves"));
  }

  async #load(): Promise<void> {
    this.#under?.abort();
    const under = new AbortController();
    this.#under = under;
    this.#of = this.#drawing();
    this.#finding = this.#found();
    this.#state(this.#word("waits"));
    this.#layer?.stale(true);
    for (const fine of [false, true]) {
      const answer = await send("GET", this.#url("", { fine, width: this.#width() }), { signal: under.signal });
      if (answer.kind === "dropped" || under !== this.#under) return;
      if (answer.kind !== "done") {
        this.#failed(answer.kind === "refused" ? linesOf(answer.body) : []);
        return;
      }
      const map = answer.body as Mapped;
      this.#show(map, fine);
      this.#state(fine ? "" : map.finer);
    }
  }

  #failed(lines: string[]): void {
    this.#layer?.remove();
    this.#layer = null;
    this.#part("told").hidden = true;
    this.#state(lines.join(" ") || this.#word("unanswered"));
  }

  #show(map: Mapped, fine: boolean): void {
    this.#fine = fine;
    if (this.#layer) this.#layer.show(map);
    else this.#layer = new Layer(this.#word("places"), map, (piece) => this.#saying.ask(piece));
    this.#layer.over(this.#sheet);
    this.#layer.say(map.least);
    this.#tell(map);
  }

  #tell(map: Mapped): void {
    this.#part("told").hidden = false;
    this.#part("heading").textContent = map.heading;
    this.#part("least").textContent = map.least;
    list(this.#part("stretches"), map.stretches.map((words) => item(words)));
    list(this.#part("key"), map.key.map(([band, words]) => keyed(band, words)));
  }

  async #said([column, row]: Piece): Promise<string | null> {
    const answer = await send("GET", this.#url("/place", { column, row, fine: this.#fine }));
    return answer.kind === "done" ? (answer.body as PlaceSaid).says : null;
  }

  #url(path: string, what: Record<string, string | number | boolean>): string {
    const query = new URLSearchParams({ finding: this.#finding });
    for (const [key, value] of Object.entries(what)) query.set(key, String(value));
    return `${this.#place.dataset["address"]}${path}?${query}`;
  }

  /** The finding that is drawn. */
  #found(): string {
    const line = this.#root.querySelector<HTMLElement>('.finding[aria-current="true"] [data-finding]');
    return line?.dataset["finding"] ?? "";
  }

  /** As wide as the drawing was made, so that the layer lies on it. */
  #width(): number {
    return Math.round(this.#drawing()?.viewBox.baseVal.width ?? 0) || 1000;
  }

  #drawing(): SVGSVGElement | null {
    return this.#sheet.querySelector<SVGSVGElement>(":scope > svg.limen-drawing");
  }

  #state(words: string): void {
    this.#part("state").textContent = words;
  }

  #part(name: string): HTMLElement {
    return this.#words.querySelector<HTMLElement>(`[data-map-${name}]`)!;
  }

  #word(name: string): string {
    return this.#place.getAttribute(`data-word-${name}`) ?? "";
  }
}

function list(place: HTMLElement, items: HTMLElement[]): void {
  place.replaceChildren(...items);
}

function item(words: string): HTMLElement {
  const made = document.createElement("li");
  made.textContent = words;
  return made;
}

/** A pattern and what it means; the pattern is that of the layer. */
function keyed(band: string, words: string): HTMLElement {
  const made = item(words);
  const swatch = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  swatch.setAttribute("class", "map-swatch");
  swatch.setAttribute("aria-hidden", "true");
  swatch.innerHTML = `<rect class="band band-${band}" width="100%" height="100%" fill="url(#band-${band})"/>`;
  made.prepend(swatch);
  return made;
}
