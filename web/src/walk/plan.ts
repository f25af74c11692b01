/** A walk in the plan: what moves is laid over the drawing of what stands still. */
import type { Flat } from "../space/scene.ts";
import { type Course, crosses, type Now } from "./course.ts";

const SVG = "http://www.w3.org/2000/svg";
const CROSS = 8; // px
const PERSON = 9; // px

/** Where the doorway's frame lies in a drawing: its origin and pixels a metre. */
export interface Lies {
  zero: Flat;
  scale: number;
}

export class PlanWalk {
  readonly #at: (place: Flat) => Flat;
  readonly #scale: number;
  readonly #lit: SVGElement;
  readonly #late: SVGElement;
  readonly #person: SVGElement;
  readonly #leaves: SVGElement[];

  constructor(svg: SVGSVGElement, course: Course, { zero, scale }: Lies) {
    this.#scale = scale;
    this.#at = ([x, y]) => [zero[0] + scale * x, zero[1] + scale * y];
    const still = svg.querySelector(":scope > g[clip-path]");
    const group = made("g", { class: "walk-moving", "clip-path": still?.getAttribute("clip-path") ?? "" });
    this.#lit = made("g", { class: "walk-lit" }, course.fields.map((one) => this.#area(one)));
    this.#leaves = course.leaves.map(({ box: [left, right, near, far] }) => {
      const leaf = this.#area([[left, near], [right, near], [right, far], [left, far]]);
      leaf.setAttribute("class", "walk-leaf");
      return leaf;
    });
    this.#late = made("g", { class: "walk-late" }, [
      ...course.late.map((one) => made("path", { d: path(one.map(this.#at)) })),
      ...crosses(course).map((one) => this.#cross(one)),
    ]);
    this.#person = made("g", { class: "walk-person" }, this.#figure(course.body));
    group.append(this.#lit, ...this.#leaves, this.#person, this.#late);
    if (still) still.after(group);
    else svg.append(group);
  }

  show(moment: Now): void {
    const [x, y] = this.#at(moment.place);
    this.#person.setAttribute("transform", `translate(${x.toFixed(2)} ${y.toFixed(2)})`);
    this.#person.classList.toggle("walk-noticed", moment.told);
    this.#lit.classList.toggle("walk-within", moment.within);
    this.#lit.classList.toggle("walk-noticed", moment.told);
    this.#late.classList.toggle("walk-shown", moment.late);
    moment.shifts.forEach((shift, i) => {
      this.#leaves[i]?.setAttribute("transform", `translate(${(shift * this.#scale).toFixed(2)} 0)`);
    });
  }

  #area(corners: readonly Flat[]): SVGElement {
    return made("path", { d: `${path(corners.map(this.#at))}Z` });
  }

  #cross(place: Flat): SVGElement {
    const [x, y] = this.#at(place);
    const one = `M${x - CROSS} ${y - CROSS}l${2 * CROSS} ${2 * CROSS}`;
    return made("path", { class: "walk-cross", d: `${one}M${x + CROSS} ${y - CROSS}l${-2 * CROSS} ${2 * CROSS}` });
  }

  #figure([wide, deep]: Flat): SVGElement[] {
    const person = made("circle", { class: "walk-dot", r: String(PERSON) });
    if (!wide) return [person];
    const [w, d] = [wide * Math.abs(this.#scale), deep * Math.abs(this.#scale)];
    const body = made("rect", {
      class: "walk-body",
      x: String(-w / 2),
      y: String(-d / 2),
      width: String(w),
      height: String(d),
    });
    return [body, person];
  }
}

function path(points: readonly Flat[]): string {
  return `M${points.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join("L")}`;
}

function made(name: string, attributes: Record<string, string>, within: SVGElement[] = []): SVGElement {
  const one = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) if (value) one.setAttribute(key, value);
  one.append(...within);
  return one;
}
