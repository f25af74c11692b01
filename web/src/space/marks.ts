/** The marks of meaning, of one size however near they are. */
import { CanvasTexture, Sprite, SpriteMaterial, SRGBColorSpace } from "three";

import { type Place, upright } from "./scene.ts";

const SIZE = 64; // px of the picture
const SHOWN: Record<string, number> = { cross: 22, "question mark": 20, square: 11, ring: 9, pinch: 16 };

/** A mark that always faces the eye; `scale` it by `sized` once the room is known. */
export function mark(kind: string, ink: string, paper: string, at: Place): Sprite {
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = SIZE;
  const pen = canvas.getContext("2d");
  if (pen) draw(pen, kind, ink, paper);
  const map = new CanvasTexture(canvas);
  map.colorSpace = SRGBColorSpace;
  const material = new SpriteMaterial({
    map,
    sizeAttenuation: false,
    depthTest: kind === "ring" || kind === "square",
    depthWrite: false,
  });
  const sprite = new Sprite(material);
  sprite.position.set(...upright(at));
  sprite.renderOrder = 60;
  sprite.userData["px"] = SHOWN[kind] ?? 14;
  return sprite;
}

function draw(pen: CanvasRenderingContext2D, kind: string, ink: string, paper: string): void {
  pen.strokeStyle = ink;
  pen.fillStyle = paper;
  pen.lineWidth = 11;
  pen.beginPath();
  if (kind === "ring") {
    pen.lineWidth = 14;
    pen.arc(32, 32, 22, 0, 2 * Math.PI);
    pen.fill();
  } else if (kind === "square") {
    pen.fillStyle = ink;
    pen.fillRect(6, 6, 52, 52);
  } else if (kind === "question mark") {
    pen.lineWidth = 7;
    pen.rect(6, 6, 52, 52);
    pen.fill();
    pen.font = "bold 40px sans-serif";
    pen.textAlign = "center";
    pen.fillStyle = ink;
    pen.fillText("?", 32, 47);
  } else {
    pen.moveTo(9, 9);
    pen.lineTo(55, 55);
    pen.moveTo(55, 9);
    pen.lineTo(9, 55);
  }
  pen.stroke();
}
