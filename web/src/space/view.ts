/** The doorway in space, turned by pointer, touch and keys. Drawn only when it changes. */
import { PerspectiveCamera, Scene as Stage, Sprite, Vector3, WebGLRenderer } from "three";
import type { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";

import { type Course, now } from "../walk/course.ts";
import { shown } from "./apart.ts";
import { build, type Built, forget } from "./build.ts";
import { type Inks, inksOf, onLight } from "./inks.ts";
import { type Eye, eyeAt, keyed, LENS, nearer, type Stand, standing, turned } from "./orbit.ts";
import { type Named, type Place, type Scene, upright } from "./scene.ts";
import { walker, type Walker } from "./walker.ts";

const TURN = 0.007; // rad a pixel
const WHEEL = 0.0015;
const IN_THE_AIR = 0.3; // m
const LIFTED = 8; // px
const OVER = 0.3; // m above the opening
const SHARP = 2; // device pixels a pixel at most

export class SpaceView {
  readonly #room: HTMLElement;
  readonly #names: HTMLElement;
  readonly #canvas: HTMLCanvasElement;
  readonly #renderer: WebGLRenderer;
  readonly #camera = new PerspectiveCamera((LENS * 180) / Math.PI, 1, 0.1, 80);
  readonly #stage = new Stage();
  readonly #held = new Map<number, { x: number; y: number }>();
  #scene: Scene | null = null;
  #built: Built | null = null;
  #course: Course | null = null;
  #walker: Walker | null = null;
  #time = 0;
  #stand: Stand | null = "first";
  #eye: Eye | null = null;
  #past: Built["root"][] = [];
  #asked = false;
  #spread = 0;
  #labels: { named: Named; span: HTMLElement; width: number; height: number }[] = [];

  /** Throws where this browser draws nothing in space. */
  constructor(room: HTMLElement) {
    this.#room = room;
    this.#canvas = room.querySelector("canvas")!;
    this.#names = room.querySelector<HTMLElement>("[data-space-names]")!;
    this.#renderer = new WebGLRenderer({ canvas: this.#canvas, antialias: true, alpha: true });
    this.#renderer.setPixelRatio(Math.min(SHARP, devicePixelRatio));
    new ResizeObserver(() => this.#fit()).observe(room);
    onLight(() => this.#rebuild());
    this.#listen();
  }

  /** The doorway, and the walk that is played in it. */
  show(scene: Scene, course: Course | null): void {
    this.#scene = scene;
    this.#course = course;
    this.#canvas.setAttribute("aria-label", scene.title);
    this.#rebuild();
  }

  moment(time: number): void {
    this.#time = time;
    this.#move();
    this.#draw();
  }

  stand(name: Stand): void {
    if (!this.#scene) return;
    this.#stand = name;
    // Who stands inside, and has said so, looks from there at first.
    const within = name === "first" && this.#room.closest("[data-turned]") !== null;
    this.#eye = standing(within ? "first inside" : name, pointsOf(this.#scene), this.#camera.aspect);
    this.#draw();
  }

  nearer(factor: number): void {
    if (this.#eye) this.#look(nearer(this.#eye, factor));
  }

  // Making ------------------------------------------------------------------------

  #rebuild(): void {
    if (!this.#scene) return;
    const inks = inksOf(this.#room);
    if (this.#built) this.#drop(this.#built.root);
    if (this.#walker) this.#drop(this.#walker.root);
    this.#built = build(this.#scene, inks);
    this.#stage.add(this.#built.root);
    this.#walker = this.#course ? this.#made(this.#course, inks) : null;
    this.#label(this.#scene.named);
    this.#move();
    this.#fit();
  }

  #made(course: Course, inks: Inks): Walker {
    const made = walker(course, inks);
    this.#stage.add(made.root);
    return made;
  }

  /** Given back after the next picture: what both are painted with is then kept. */
  #drop(root: Built["root"]): void {
    this.#stage.remove(root);
    this.#past.push(root);
  }

  #label(all: readonly Named[]): void {
    this.#names.replaceChildren();
    this.#labels = all.map((named) => {
      const span = document.createElement("span");
      span.className = named.quiet ? "space-name quiet" : "space-name";
      span.textContent = named.text;
      this.#names.append(span);
      const { width, height } = span.getBoundingClientRect();
      return { named, span, width, height };
    });
  }

  #move(): void {
    const course = this.#course;
    const moment = course && now(course, this.#time);
    this.#built?.leaves.forEach((leaf, i) => (leaf.position.x = moment?.shifts[i] ?? 0));
    if (moment) this.#walker?.show(moment);
  }

  // Drawing -----------------------------------------------------------------------

  #fit(): void {
    const { clientWidth: width, clientHeight: height } = this.#room;
    if (!width || !height) return;
    this.#renderer.setSize(width, height, false);
    this.#camera.aspect = width / height;
    this.#camera.updateProjectionMatrix();
    this.#stage.traverse((one) => {
      const material = (one as { material?: LineMaterial }).material;
      if (material?.isLineMaterial) material.resolution.set(width, height);
      if (one instanceof Sprite) one.scale.setScalar((2 * Math.tan(LENS / 2) * Number(one.userData["px"])) / height);
    });
    for (const one of this.#labels) {
      ({ width: one.width, height: one.height } = one.span.getBoundingClientRect());
    }
    if (this.#stand) this.stand(this.#stand);
    else this.#draw();
  }

  #look(eye: Eye): void {
    this.#stand = null;
    this.#eye = eye;
    this.#draw();
  }

  #draw(): void {
    if (this.#asked) return;
    this.#asked = true;
    requestAnimationFrame(() => {
      this.#asked = false;
      if (!this.#eye || !this.#room.clientWidth) return;
      this.#camera.position.set(...upright(eyeAt(this.#eye)));
      this.#camera.lookAt(...upright(this.#eye.at));
      this.#renderer.render(this.#stage, this.#camera);
      for (const one of this.#past.splice(0)) forget(one);
      this.#name();
    });
  }

  #name(): void {
    const { clientWidth: width, clientHeight: height } = this.#room;
    const places = this.#labels.map(({ named, width: wide, height: high }) => {
      const at = new Vector3(...upright(named.at)).project(this.#camera);
      const behind = at.z > 1 ? -1e4 : 0;
      const left = ((at.x + 1) / 2) * width - wide / 2 + behind;
      // What is named in the air bears its name above it, what lies on the floor on it.
      const above = named.at[2] > IN_THE_AIR ? high + LIFTED : high / 2;
      return { left, top: ((1 - at.y) / 2) * height - above, width: wide, height: high, importance: named.importance };
    });
    const kept = shown(places, { width, height });
    this.#labels.forEach(({ span }, i) => {
      span.style.transform = `translate(${Math.round(places[i]!.left)}px, ${Math.round(places[i]!.top)}px)`;
      span.style.visibility = kept.has(i) ? "visible" : "hidden";
    });
  }

  // Turning -----------------------------------------------------------------------

  #listen(): void {
    const canvas = this.#canvas;
    canvas.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      canvas.setPointerCapture(event.pointerId);
      this.#held.set(event.pointerId, { x: event.clientX, y: event.clientY });
      this.#spread = spreadOf(this.#held);
    });
    canvas.addEventListener("pointermove", (event) => this.#drag(event));
    for (const end of ["pointerup", "pointercancel"] as const) {
      canvas.addEventListener(end, (event) => {
        this.#held.delete(event.pointerId);
        this.#spread = spreadOf(this.#held);
      });
    }
    canvas.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    canvas.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey || !this.#eye) return;
      if (event.key === "Home") this.stand("first");
      const eye = keyed(this.#eye, event.key, event.shiftKey && event.key.startsWith("Arrow"));
      if (eye) this.#look(eye);
      if (eye || event.key === "Home") event.preventDefault();
    });
    canvas.addEventListener("webglcontextrestored", () => this.#rebuild());
    canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
  }

  #drag(event: PointerEvent): void {
    const held = this.#held.get(event.pointerId);
    if (!held || !this.#eye) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    this.#held.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (this.#held.size === 1) {
      this.#look(turned(this.#eye, -TURN * dx, TURN * dy));
      return;
    }
    const spread = spreadOf(this.#held);
    if (this.#spread > 0 && spread > 0) this.#look(nearer(this.#eye, spread / this.#spread));
    this.#spread = spread;
  }

  /** The wheel scrolls the page, unless the drawing was taken hold of first. */
  #wheel(event: WheelEvent): void {
    if (!this.#eye || !(event.ctrlKey || document.activeElement === this.#canvas)) return;
    event.preventDefault();
    this.#look(nearer(this.#eye, Math.exp(-WHEEL * event.deltaY)));
  }
}

/** What is to be in the picture: the floor, the wall above it, all that stands there. */
function pointsOf({ frame, half, high, solids }: Scene): Place[] {
  const [left, right, inside, outside] = frame;
  const floor = [left, right].flatMap((x) => [inside, outside].map((y): Place => [x, y, 0]));
  const above = [-half, half].map((x): Place => [x, 0, high + OVER]);
  return [...floor, ...above, ...solids.flatMap((one) => one.corners.map(([x, y]): Place => [x, y, one.high]))];
}

/** How far apart two fingers are (px); 0 for one. */
function spreadOf(held: ReadonlyMap<number, { x: number; y: number }>): number {
  const [one, two] = [...held.values()];
  return one && two ? Math.hypot(one.x - two.x, one.y - two.y) : 0;
}
