/** Somebody on the way to the door: who they are, the field that lights, what lacks. */
import { CylinderGeometry, Group, Mesh, SphereGeometry } from "three";

import { type Course, crosses, type Now } from "../walk/course.ts";
import { area, chain, lines, onFloor, paint, put } from "./build.ts";
import type { Inks } from "./inks.ts";
import { mark } from "./marks.ts";
import type { Flat, Style } from "./scene.ts";

const LINE: Style = { stroke: "ink", fill: null, wide: 2, dash: [], veil: 1, pattern: null };
const LIT: Style = { stroke: "approach", fill: "approach", wide: 4, dash: [], veil: 0.32, pattern: null };

export interface Walker {
  root: Group;
  show(moment: Now): void;
}

export function walker(course: Course, inks: Inks): Walker {
  const root = new Group();
  const lit = new Group();
  for (const corners of course.fields) put(lit, area(corners, LIT, inks, 30));
  const late = new Group();
  for (const points of course.late) {
    late.add(lines(chain(points.map(onFloor(36))), { ...LINE, stroke: "fails", wide: 6 }, inks));
  }
  for (const [x, y] of crosses(course)) late.add(mark("cross", inks("fails"), inks("paper"), [x, y, 0.03]));
  const person = figure(course.body, inks);
  root.add(lit, late, person);
  return {
    root,
    show(moment) {
      person.position.set(moment.place[0], 0, moment.place[1]);
      lit.visible = moment.told;
      late.visible = moment.late;
    },
  };
}

/** A figure as tall as an adult; on the floor the body that the rulebook asks for. */
function figure([wide, deep]: Flat, inks: Inks): Group {
  const group = new Group();
  const trunk = new Mesh(new CylinderGeometry(0.17, 0.1, 1.36, 24), paint(inks("ink"), 0.82));
  trunk.position.y = 0.69;
  const head = new Mesh(new SphereGeometry(0.12, 24, 16), paint(inks("ink"), 0.82));
  head.position.y = 1.54;
  group.add(trunk, head);
  if (wide > 0) {
    const [w, d] = [wide / 2, deep / 2];
    const corners: Flat[] = [[-w, -d], [w, -d], [w, d], [-w, d]];
    put(group, area(corners, { ...LINE, fill: "ink", veil: 0.12 }, inks, 34));
  }
  return group;
}
