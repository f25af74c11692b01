/** The opening from above with the box where it goes, and how far that is from a post. */
import { drawn, svg } from "./dom.ts";
import { shownLength } from "./lengths.ts";
import type { Ground, Place } from "./pack.ts";

export interface Overlay {
  corners: [number, number][];
  /** From which post the box is taped, and how far its middle is from it (m). */
  post: "left" | "right";
  distance: number;
  from: [number, number];
  to: [number, number];
}

/** Where the box and its dimension lie on the ground, in the drawing's units. */
export function overlay(ground: Ground, place: Place): Overlay {
  const at = (x: number, y: number): [number, number] => [ground.zero[0] + ground.scale * x, ground.zero[1] + ground.scale * y];
  const [cos, sin] = [Math.cos(place.yaw), Math.sin(place.yaw)];
  const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]].map(([i = 0, j = 0]) => {
    const [across, along] = [(i * place.width) / 2, (j * place.depth) / 2];
    return at(place.x + across * cos - along * sin, place.y + across * sin + along * cos);
  });
  const [left, right] = ground.posts;
  const post = place.x - left < right - place.x ? "left" : "right";
  const near = post === "left" ? left : right;
  return { corners, post, distance: Math.abs(place.x - near), from: at(place.x, place.y), to: at(near, place.y) };
}

/** The drawing, with its words for who does not see it. */
export function planOf(ground: Ground, place: Place | null, says: string, feet: boolean): SVGElement | null {
  const drawing = drawn(ground.svg);
  if (!drawing) return null;
  drawing.classList.add("card-plan");
  drawing.removeAttribute("width");
  drawing.removeAttribute("height");
  drawing.querySelectorAll("title, desc").forEach((one) => one.remove());
  drawing.removeAttribute("aria-labelledby");
  drawing.setAttribute("role", "img");
  drawing.setAttribute("aria-label", says);
  if (place) drawing.append(...laid(ground, place, feet, drawing.viewBox.baseVal));
  return drawing;
}

function laid(ground: Ground, place: Place, feet: boolean, box: DOMRect | SVGRect): SVGElement[] {
  const { corners, distance, from, to } = overlay(ground, place);
  const path = `M${corners.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}Z`;
  const below = box.y + box.height - DIMENSION;
  const [a, b] = [Math.min(from[0], to[0]), Math.max(from[0], to[0])];
  const words = shownLength(distance, feet);
  const wide = (words.length * LETTER) / 2;
  const middle = Math.min(Math.max((a + b) / 2, box.x + wide), box.x + box.width - wide);
  return [
    svg("path", { d: path, class: "card-box" }),
    svg("path", { d: `M${from[0]} ${from[1]}V${below}M${to[0]} ${to[1]}V${below}`, class: "card-led" }),
    svg("path", { d: `M${a} ${below}H${b}`, class: "card-dimension" }),
    svg("path", { d: `M${a} ${below - TICK}V${below + TICK}M${b} ${below - TICK}V${below + TICK}`, class: "card-dimension" }),
    svg("text", { x: middle, y: below - LIFT, "text-anchor": "middle", class: "card-length" }, words),
  ];
}

const DIMENSION = 12; // above the lower edge, drawing units
const LIFT = 7; // of the words above the line
const TICK = 5;
const LETTER = 10; // about a letter's width
