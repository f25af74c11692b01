/** A photo of a plan, written anew: upright, and with nothing of place or camera in it. */
const LONGEST = 4000; // px
const QUALITY = 0.86;

/** Put in place of a chosen photo the same picture upright; any other file stays. */
export async function upright(field: HTMLInputElement): Promise<void> {
  const file = field.files?.[0];
  if (file?.type !== "image/jpeg") return;
  try {
    const read = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, LONGEST / Math.max(read.width, read.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(read.width * scale));
    canvas.height = Math.max(1, Math.round(read.height * scale));
    canvas.getContext("2d")?.drawImage(read, 0, 0, canvas.width, canvas.height);
    read.close();
    const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
    if (!blob || field.files?.[0] !== file) return;
    const held = new DataTransfer();
    held.items.add(new File([blob], file.name, { type: "image/jpeg" }));
    field.files = held.files;
  } catch {
    // What this browser cannot read is left to the server to refuse.
  }
}
