/**
 * A photo as it is kept: made smaller, written anew, so that nothing of place or camera
 * is in it, and named by the digest of its bytes.
 */
import { sha256 } from "./digest.ts";

export interface Picture {
  blob: Blob;
  sha256: string;
  width: number;
  height: number;
}

export const LONGEST = 1600; // px
const QUALITY = 0.82;

/** The size of a picture whose longer side is to be no longer than `most`. */
export function within(width: number, height: number, most = LONGEST): [number, number] {
  const scale = Math.min(1, most / Math.max(width, height));
  return [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
}

/** Throws where the file is no picture that this browser reads. */
export async function shrunk(file: Blob): Promise<Picture> {
  const read = await createImageBitmap(file, { imageOrientation: "from-image" });
  const [width, height] = within(read.width, read.height);
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [width, height];
  const context = canvas.getContext("2d");
  if (!context) throw new Error("no canvas");
  context.drawImage(read, 0, 0, width, height);
  read.close();
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
  if (!blob) throw new Error("not written");
  return { blob, sha256: await sha256(new Uint8Array(await blob.arrayBuffer())), width, height };
}
