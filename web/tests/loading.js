/** A module of ours, bundled as it is for the page, ready to be asked. */
import { fileURLToPath } from "node:url";

import { rolldown } from "rolldown";

export async function load(path) {
  const input = fileURLToPath(new URL(`../src/${path}`, import.meta.url));
  const bundle = await rolldown({ input });
  const { output } = await bundle.generate({ format: "esm" });
  await bundle.close();
  return import(`data:text/javascript;base64,${Buffer.from(output[0].code).toString("base64")}`);
}
