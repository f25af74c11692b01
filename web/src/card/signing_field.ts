/** A field to be signed with a finger; strokes are kept in its own pixels. */
import { el } from "./dom.ts";
import type { Strokes } from "./events.ts";

type Stroke = [number, number][];
const LEAST_APART = 2; // px: nearer points tell nothing
const MOST_POINTS = 4000;

export interface Pad {
  element: HTMLElement;
  strokes(): Strokes;
  clear(): void;
}

export function pad(label: string, help: string): Pad {
  const canvas = el("canvas", { class: "card-pad", role: "img", "aria-label": label, tabindex: "0" });
  let strokes: Stroke[] = [];
  let running: Stroke | null = null;
  const draw = () => inked(canvas, strokes);
  const at = (event: PointerEvent): [number, number] => {
    const box = canvas.getBoundingClientRect();
    return [Math.round(event.clientX - box.left), Math.round(event.clientY - box.top)];
  };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    running = [at(event)];
    strokes.push(running);
    draw();
  });
  canvas.addEventListener("pointermove", (event) => {
    const last = running?.at(-1);
    const [x, y] = at(event);
    if (!running || !last || running.length >= MOST_POINTS || Math.hypot(x - last[0], y - last[1]) < LEAST_APART) return;
    running.push([x, y]);
    draw();
  });
  for (const end of ["pointerup", "pointercancel"] as const) canvas.addEventListener(end, () => (running = null));
  new ResizeObserver(draw).observe(canvas);
  return {
    element: el("div", { class: "card-signature" }, canvas, el("span", { class: "card-help" }, help)),
    strokes: () => strokes.map((stroke) => [...stroke]),
    clear: () => {
      strokes = [];
      draw();
    },
  };
}

function inked(canvas: HTMLCanvasElement, strokes: readonly Stroke[]): void {
  const [wide, high, dense] = [canvas.clientWidth, canvas.clientHeight, devicePixelRatio || 1];
  canvas.width = Math.round(wide * dense);
  canvas.height = Math.round(high * dense);
  const context = canvas.getContext("2d");
  if (!context) return;
  context.scale(dense, dense);
  context.strokeStyle = getComputedStyle(canvas).color;
  context.lineWidth = 2.5;
  context.lineCap = context.lineJoin = "round";
  for (const stroke of strokes) {
    context.beginPath();
    stroke.forEach(([x, y], i) => (i ? context.lineTo(x, y) : context.moveTo(x, y)));
    if (stroke.length === 1 && stroke[0]) context.lineTo(stroke[0][0] + 0.1, stroke[0][1]);
    context.stroke();
  }
}
