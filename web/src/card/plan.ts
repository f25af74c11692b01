/** The opening from above with the box where it goes, and how far that is from a post. */
import { drawn, svg } from "./dom.ts";
import { shownLength } from "./lengths.ts";
import type { Ground, Place } from "./pack.ts";

export interface Overlay {
  corners: [number, number][];
  /** What the tape shows (m); null where the box stands at the post, or past it. */
  distance: number | null;
  /** The post, and the box's edge that is taped from it. */
  from: [number, number];
  to: [number, number];
}

const HAIR = 0.0005; // m: less is not seen on a tape

/** Where the box and its dimension lie on the ground, in the drawing's units. */
export function overlay(ground: Ground, place: Place): Overlay {
  const at = (x: number, y: number): [number, number] => [ground.zero[0] + ground.scale * x, ground.zero[1] + ground.scale * y];
  const [cos, sin] = [Math.cos(place.yaw), Math.sin(place.yaw)];
  const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]].map(([i = 0, j = 0]) => {
    const [across, along] = [(i * place.width) / 2, (j * place.depth) / 2];
    return at(place.x + across * cos - along * sin, place.y + across * sin + along * cos);
  });
  const [left, right] = ground.posts;
  const fromRight = place.post === "right";
  const post = fromRight ? right : left;
  const edge = post + (fromRight ? -place.far : place.far);
  return { corners, distance: place.far > HAIR ? place.far : null, from: at(post, place.y), to: at(edge, place.y) };
}

/** The drawing, with its words for who does not see it. */
export function planOf(ground: Ground, place: Place | null, says: string, sides: [string, string], feet: boolean): SVGElement | null {
  const drawing = drawn(ground.svg);
  if (!drawing) return null;
  // Only the plan itself: its scale and its small words are not read from a ladder.
  for (const one of [...drawing.children]) {
    if (!one.matches("defs, rect, g[clip-path]")) one.remove();
  }
  drawing.querySelectorAll("text").forEach((one) => one.remove());
  for (const name of ["width", "height", "aria-labelledby"]) drawing.removeAttribute(name);
  drawing.setAttribute("class", "limen-drawing card-plan");
  drawing.setAttribute("role", "img");
  drawing.setAttribute("aria-label", says);
  const panel = panelOf(drawing);
  const high = panel.height + (place ? DIMENSION : 0);
  drawing.setAttribute("viewBox", `${panel.x} ${panel.y} ${panel.width} ${high}`);
  drawing.append(...sideWords(panel, sides, ground.scale < 0));
  if (place) drawing.append(...laid(ground, place, feet, panel));
  return drawing;
}

interface Panel {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** The piece of the sheet that the plan itself takes. */
function panelOf(drawing: SVGSVGElement): Panel {
  const rect = drawing.querySelector("clipPath > rect");
  const of = (name: string) => Number(rect?.getAttribute(name) ?? 0);
  const { x, y, width, height } = drawing.viewBox.baseVal;
  return rect ? { x: of("x"), y: of("y"), width: of("width"), height: of("height") } : { x, y, width, height };
}

function sideWords(panel: Panel, [above, below]: [string, string], turned: boolean): SVGElement[] {
  const [upper, lower] = turned ? [below, above] : [above, below];
  const x = panel.x + EDGE;
  return [
    svg("text", { x, y: panel.y + LETTER_HEIGHT + 2, class: "card-side" }, upper),
    svg("text", { x, y: panel.y + panel.height - EDGE, class: "card-side" }, lower),
  ];
}

function laid(ground: Ground, place: Place, feet: boolean, panel: Panel): SVGElement[] {
  const { corners, distance, from, to } = overlay(ground, place);
  const path = `M${corners.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}Z`;
  const below = panel.y + panel.height + DIMENSION - TICK - 3;
  const [a, b] = [Math.min(from[0], to[0]), Math.max(from[0], to[0])];
  const box = svg("path", { d: path, class: "card-box" });
  if (distance === null) return [box];
  const words = shownLength(distance, feet);
  const wide = (words.length * LETTER) / 2;
  const middle = Math.min(Math.max((a + b) / 2, panel.x + wide), panel.x + panel.width - wide);
  return [
    box,
    svg("path", { d: `M${from[0]} ${from[1]}V${below}M${to[0]} ${to[1]}V${below}`, class: "card-led" }),
    svg("path", { d: `M${a} ${below}H${b}M${a} ${below - TICK}v${2 * TICK}M${b} ${below - TICK}v${2 * TICK}`, class: "card-dimension" }),
    svg("text", { x: middle, y: below - LIFT, "text-anchor": "middle", class: "card-length" }, words),
  ];
}

const DIMENSION = 32; // below the plan, drawing units
const LIFT = 6; // of the words above the line
const TICK = 5;
const LETTER = 11; // about a letter's width
const LETTER_HEIGHT = 16;
const EDGE = 8;
