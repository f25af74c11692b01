import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

import { build, type Plugin, type Rolldown } from "vite";

/** The file of the worker, beside the manifest. */
const WORKER = "sw.js";
const BESIDE = ["icon.svg"];

type Bundle = Rolldown.OutputBundle;

/**
 * Writes the worker that answers without network, once all else is bundled: it is told
 * which files the given entries need, and is named by them.
 *
 * @param pages by address, the entries that a page loads.
 */
export function offline(pages: Record<string, string[]>): Plugin {
  return {
    name: "offline",
    apply: "build",
    async writeBundle(options, bundle) {
      const folder = options.dir ?? "";
      const files = [...new Set(Object.values(pages).flat().flatMap((entry) => needed(bundle, entry)))].sort();
      const all = [...files, ...BESIDE].map((name) => `/static/${name}`);
      const named = createHash("sha256").update(JSON.stringify(all));
      named.update(readFileSync(new URL("./src/sw.ts", import.meta.url)));
      const code = await worker(all, Object.keys(pages), named.digest("hex").slice(0, 16));
      writeFileSync(join(folder, WORKER), code);
    },
  };
}

async function worker(files: string[], pages: string[], name: string): Promise<string> {
  const made = await build({
    configFile: false,
    logLevel: "warn",
    define: { __FILES__: JSON.stringify(files), __PAGES__: JSON.stringify(pages), __BUILD__: JSON.stringify(name) },
    build: {
      write: false,
      target: "es2022",
      lib: { entry: new URL("./src/sw.ts", import.meta.url).pathname, formats: ["iife"], name: "worker", fileName: () => WORKER },
    },
  });
  const [first] = Array.isArray(made) ? made : [made];
  const chunk = first && "output" in first ? first.output[0] : null;
  if (!chunk) throw new Error("the worker was not bundled");
  // Read by the server, which says to which bundle its pages belong.
  return `/* build ${name} */\n${chunk.code}`;
}

/** What an entry loads: its script, what that imports, their styles, the letters. */
function needed(bundle: Bundle, entry: string): string[] {
  const chunks = Object.values(bundle).filter((one) => one.type === "chunk");
  const first = chunks.find((one) => one.isEntry && one.name === entry);
  if (!first) throw new Error(`no entry ${entry}`);
  const found = new Set<string>([first.fileName]);
  for (const name of found) {
    const chunk = chunks.find((one) => one.fileName === name);
    chunk?.imports.forEach((one) => found.add(one));
    chunk?.viteMetadata?.importedCss.forEach((one) => found.add(one));
    chunk?.viteMetadata?.importedAssets.forEach((one) => found.add(one));
  }
  // Letters that few names have stay behind: a page is readable without them.
  return [...found].filter((name) => !name.includes("-latin-ext-"));
}
