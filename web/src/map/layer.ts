/** The layer over the plan: laid out as the drawing is, pointed at piece by piece. */
import type { Mapped } from "./replies.ts";

const SVG = "http://www.w3.org/2000/svg";

export type Piece = readonly [column: number, row: number];

export class Layer {
  readonly #place: HTMLElement;
  readonly #tip: HTMLElement;
  readonly #pointed: (piece: Piece) => void;
  #map: Mapped;
  #at: Piece | null = null;

  constructor(label: string, map: Mapped, pointed: (piece: Piece) => void) {
    this.#map = map;
    this.#pointed = pointed;
    this.#place = document.createElement("div");
    this.#place.className = "map-layer";
    this.#place.tabIndex = 0;
    this.#place.setAttribute("role", "application");
    this.#place.setAttribute("aria-label", label);
    this.#tip = document.createElement("p");
    this.#tip.className = "map-tip";
    this.#tip.setAttribute("aria-live", "polite");
    this.#place.addEventListener("pointermove", (event) => this.#point(event));
    this.#place.addEventListener("pointerdown", (event) => this.#point(event));
    this.#place.addEventListener("keydown", (event) => this.#key(event));
    this.show(map);
  }

  /** Lay it over a drawing, below what is taken hold of. */
  over(sheet: HTMLElement): void {
    const drawing = sheet.querySelector(":scope > svg");
    if (this.#place.parentElement !== sheet) drawing?.after(this.#place, this.#tip);
  }

  remove(): void {
    this.#place.remove();
    this.#tip.remove();
  }

  /** A finer map, or a new one: the piece pointed at stays where it was. */
  show(map: Mapped): void {
    const share = this.#at && [this.#at[0] / this.#map.columns, this.#at[1] / this.#map.rows];
    this.#map = map;
    const fresh = new DOMParser().parseFromString(map.svg, "image/svg+xml").documentElement;
    this.#place.replaceChildren(document.importNode(fresh, true));
    this.#at = null;
    if (share) this.#go([Math.floor(share[0]! * map.columns), Math.floor(share[1]! * map.rows)]);
    this.stale(false);
  }

  stale(is: boolean): void {
    this.#place.toggleAttribute("data-stale", is);
    this.#tip.toggleAttribute("data-stale", is);
  }

  say(words: string): void {
    this.#tip.textContent = words;
  }

  #point(event: PointerEvent): void {
    const svg = this.#svg();
    const matrix = svg?.getScreenCTM()?.inverse();
    if (!svg || !matrix) return;
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
    const { origin, step } = this.#map;
    const piece: Piece = [Math.floor((x - origin[0]) / step[0]), Math.floor((y - origin[1]) / step[1])];
    if (this.#holds(piece)) this.#go(piece);
  }

  #key(event: KeyboardEvent): void {
    const way = this.#way(event.key);
    if (!way) return;
    event.preventDefault();
    if (this.#holds(way)) this.#go(way);
  }

  /** Where a key leads: as the drawing lies, also where it is turned. */
  #way(key: string): Piece | null {
    const [column, row] = this.#at ?? this.#map.worst ?? [0, 0];
    const [right, down] = this.#map.step.map(Math.sign) as [number, number];
    if (!this.#at && key.startsWith("Arrow")) return [column, row];
    switch (key) {
      case "ArrowLeft": return [column - right, row];
      case "ArrowRight": return [column + right, row];
      case "ArrowUp": return [column, row - down];
      case "ArrowDown": return [column, row + down];
      case "Home": return this.#map.worst;
      default: return null;
    }
  }

  #holds([column, row]: Piece): boolean {
    return column >= 0 && row >= 0 && column < this.#map.columns && row < this.#map.rows;
  }

  #go(piece: Piece): void {
    if (this.#at && piece[0] === this.#at[0] && piece[1] === this.#at[1]) return;
    this.#at = piece;
    this.#mark(piece);
    this.#pointed(piece);
  }

  #mark([column, row]: Piece): void {
    const svg = this.#svg();
    if (!svg) return;
    let mark = svg.querySelector(".pointed");
    if (!mark) {
      mark = document.createElementNS(SVG, "rect");
      mark.setAttribute("class", "pointed");
      svg.append(mark);
    }
    const { origin, step } = this.#map;
    const [wide, deep] = step;
    mark.setAttribute("x", String(Math.min(origin[0] + column * wide, origin[0] + (column + 1) * wide)));
    mark.setAttribute("y", String(Math.min(origin[1] + row * deep, origin[1] + (row + 1) * deep)));
    mark.setAttribute("width", String(Math.abs(wide)));
    mark.setAttribute("height", String(Math.abs(deep)));
  }

  #svg(): SVGSVGElement | null {
    return this.#place.querySelector("svg");
  }
}
