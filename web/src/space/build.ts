/** The server's scene as things of the tool that draws. */
import {
  BufferGeometry,
  CircleGeometry,
  Color,
  DoubleSide,
  Float32BufferAttribute,
  Group,
  InstancedMesh,
  Matrix4,
  Mesh,
  MeshBasicMaterial,
  type Object3D,
  Shape,
  ShapeGeometry,
} from "three";
import { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
import { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";

import { hatched } from "./hatch.ts";
import type { Inks } from "./inks.ts";
import { type Flat, type Leaf, type Place, type Scene, type Style, upright } from "./scene.ts";
import { mark } from "./marks.ts";

const DOT = 0.011; // m: a spot whose light is not drawn
const HATCH = 0.16; // m
const PX = 0.011; // m that a pixel of a dash is long
const LAYER = 0.0006; // m between what lies on the floor
const BEAM = 0.5; // of a beam's width: there are many of them
const SEE_THROUGH: Record<string, number> = { wall: 0.4, header: 0.3, leaf: 0.22, thing: 0.85 };
const FAINT: Record<string, number> = { beam: 0.34, "beam of the inside unit": 0.34, "row of a dead unit": 0.4 };
const PLAIN: Style = { stroke: "line", fill: null, wide: 1, dash: [], veil: 1, pattern: null };
const SIGNS: Record<string, string> = {
  cross: "fails",
  "question mark": "not shown",
  square: "holds",
  pinch: "fails",
};

/** All of a scene, and those of its parts that can be moved. */
export interface Built {
  root: Group;
  leaves: Group[];
}

export function build(scene: Scene, inks: Inks): Built {
  const root = new Group();
  const style = (part: string): Style => scene.styles[part] ?? PLAIN;
  put(root, floor(scene, inks));
  let layer = 2;
  for (const one of scene.floor) {
    layer += 1;
    const own = style(one.part);
    if (one.kind === "area") put(root, area(one.at, own, inks, layer));
    else if (one.kind === "line") root.add(lines(chain(one.at.map(onFloor(layer))), own, inks));
    else if (one.kind === "dots") root.add(dots(one.at, one.radius || DOT, own, inks, layer));
    else put(root, one.at.map(([x, y]) => sign(one.part, [x, y, 0.01], inks)).filter((s) => s !== null));
  }
  for (const one of scene.solids) root.add(block(one.corners, one.low, one.high, one.part, style(one.part), inks));
  put(root, wires(scene, style, inks));
  for (const one of scene.posts) {
    const made = sign(one.part, one.at, inks);
    if (made) root.add(made);
  }
  const leaves = scene.leaves.map((one) => leafOf(one, style("leaf"), inks));
  put(root, leaves);
  return { root, leaves };
}

/** To add nothing is a fault to the tool. */
export function put(group: Group, made: readonly Object3D[]): void {
  for (const one of made) group.add(one);
}

/** Give back what the drawing tool holds of it. */
export function forget(root: Object3D): void {
  root.traverse((one) => {
    const { geometry, material } = one as Partial<Mesh>;
    geometry?.dispose();
    for (const each of [material ?? []].flat()) {
      (each as { map?: { dispose(): void } }).map?.dispose();
      each.dispose();
    }
    if (one instanceof InstancedMesh) one.dispose();
  });
}

// The floor -----------------------------------------------------------------------

function floor({ frame }: Scene, inks: Inks): Object3D[] {
  const [left, right, inside, outside] = frame;
  const within = rectangle(left, right, inside, 0);
  const all = rectangle(left, right, inside, outside);
  return [
    filled(within, inks("wall"), 0.5, 1),
    lines(chain([...all, all[0]!].map(onFloor(1))), { ...PLAIN, stroke: "wall", wide: 1.5 }, inks),
  ];
}

export function area(corners: readonly Flat[], style: Style, inks: Inks, layer: number): Object3D[] {
  const made: Object3D[] = [];
  if (style.fill) made.push(filled(corners, inks(style.fill), style.veil, layer));
  if (style.pattern === "dots") made.push(filled(corners, inks("presence"), 0.1, layer));
  if (style.pattern === "hatch") {
    const pairs = hatched(corners, HATCH).map((pair) => pair.map(onFloor(layer)));
    made.push(lines(pairs as [Place, Place][], { ...style, dash: [], wide: 1 }, inks, 0.7));
  }
  if (style.stroke) made.push(lines(chain([...corners, corners[0]!].map(onFloor(layer))), style, inks));
  return made;
}

function filled(corners: readonly Flat[], ink: string, veil: number, layer: number): Mesh {
  // A shape lies in x and y of the tool; laid down, its y points away from the eye.
  const shape = new Shape();
  corners.forEach(([x, y], i) => (i ? shape.lineTo(x, -y) : shape.moveTo(x, -y)));
  const geometry = new ShapeGeometry(shape).rotateX(-Math.PI / 2).translate(0, layer * LAYER, 0);
  const mesh = new Mesh(geometry, paint(ink, veil));
  mesh.renderOrder = layer;
  return mesh;
}

function dots(middles: readonly Flat[], radius: number, style: Style, inks: Inks, layer: number): Object3D {
  const ink = inks(style.fill ?? style.stroke ?? "ink");
  const geometry = new CircleGeometry(radius, 20).rotateX(-Math.PI / 2);
  const mesh = new InstancedMesh(geometry, paint(ink, style.veil), middles.length);
  middles.forEach(([x, y], i) => mesh.setMatrixAt(i, new Matrix4().makeTranslation(x, layer * LAYER, y)));
  mesh.renderOrder = layer;
  mesh.frustumCulled = false;
  return mesh;
}

export function onFloor(layer: number): (at: Flat) => Place {
  return ([x, y]) => [x, y, layer * LAYER];
}

// What stands ----------------------------------------------------------------------

function block(
  corners: readonly Flat[],
  low: number,
  high: number,
  part: string,
  style: Style,
  inks: Inks,
): Group {
  const group = new Group();
  const veil = SEE_THROUGH[part] ?? style.veil;
  const ink = style.fill ?? (part === "header" ? "wall" : null);
  if (ink) group.add(new Mesh(prism(corners, low, high), paint(inks(ink), veil)));
  const edges: [Place, Place][] = [];
  corners.forEach(([x, y], i) => {
    const [x2, y2] = corners[(i + 1) % corners.length]!;
    edges.push([[x, y, low], [x2, y2, low]], [[x, y, high], [x2, y2, high]], [[x, y, low], [x, y, high]]);
  });
  const wide = part.startsWith("body") ? style.wide : Math.min(style.wide, 1.25);
  group.add(lines(edges, { ...style, stroke: style.stroke ?? "line", wide, dash: [] }, inks));
  return group;
}

function prism(corners: readonly Flat[], low: number, high: number): BufferGeometry {
  const points: number[] = [];
  const add = (...places: Place[]): void => void points.push(...places.flatMap(upright));
  corners.forEach(([x, y], i) => {
    const [x2, y2] = corners[(i + 1) % corners.length]!;
    add([x, y, low], [x2, y2, low], [x2, y2, high], [x, y, low], [x2, y2, high], [x, y, high]);
    if (i < 1 || i > corners.length - 2) return;
    for (const z of [low, high]) add([...corners[0]!, z], [x, y, z], [x2, y2, z]);
  });
  return new BufferGeometry().setAttribute("position", new Float32BufferAttribute(points, 3));
}

function leafOf({ box, high }: Leaf, style: Style, inks: Inks): Group {
  const [left, right, near, far] = box;
  return block(rectangle(left, right, near, far), 0, high, "leaf", { ...style, stroke: "line" }, inks);
}

// Lines ----------------------------------------------------------------------------

/** Lines of one part are one thing to draw. */
function wires(scene: Scene, style: (part: string) => Style, inks: Inks): Object3D[] {
  const parts = new Map<string, [Place, Place][]>();
  for (const { part, points } of scene.wires) parts.set(part, [...(parts.get(part) ?? []), ...chain(points)]);
  return [...parts].map(([part, pairs]) => {
    const own = style(part);
    const faint = FAINT[part];
    return lines(pairs, faint ? { ...own, wide: BEAM * own.wide + 0.4, dash: [] } : own, inks, faint ?? 1);
  });
}

export function chain(points: readonly Place[]): [Place, Place][] {
  return points.slice(1).map((point, i) => [points[i]!, point]);
}

export function lines(pairs: readonly [Place, Place][], style: Style, inks: Inks, veil = 1): LineSegments2 {
  const geometry = new LineSegmentsGeometry();
  geometry.setPositions(pairs.flatMap(([a, b]) => [...upright(a), ...upright(b)]));
  const [dash = 0, gap = 0] = style.dash;
  const material = new LineMaterial({
    color: new Color(inks(style.stroke ?? style.fill ?? "ink")).getHex(),
    linewidth: style.wide,
    transparent: true,
    opacity: veil,
    dashed: dash > 0,
    dashSize: dash * PX,
    gapSize: gap * PX,
    depthWrite: false,
  });
  const made = new LineSegments2(geometry, material);
  if (dash > 0) made.computeLineDistances();
  made.renderOrder = 40;
  return made;
}

// Marks ----------------------------------------------------------------------------

function sign(part: string, at: Place, inks: Inks): Object3D | null {
  if (part === "lens") return mark("ring", inks("ink"), inks("paper"), at);
  const ink = SIGNS[part];
  return ink ? mark(part, inks(ink), inks("paper"), at) : null;
}

function rectangle(left: number, right: number, near: number, far: number): Flat[] {
  return [
    [left, near],
    [right, near],
    [right, far],
    [left, far],
  ];
}

export function paint(ink: string, veil: number): MeshBasicMaterial {
  return new MeshBasicMaterial({
    color: new Color(ink),
    side: DoubleSide,
    transparent: true,
    opacity: veil,
    depthWrite: veil >= 0.8,
  });
}
