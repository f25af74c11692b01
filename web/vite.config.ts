import { defineConfig, type Plugin } from "vite";

import { offline } from "./offline.ts";
import { squeezed } from "./squeezed.ts";

/** Every page loads `main`; a page may name one entry more. */
const entries: Record<string, string> = {
  main: "src/main.ts",
  doorway: "src/doorway/main.ts",
  survey: "src/survey/main.ts",
  sheets: "src/sheets/main.ts",
  facts: "src/facts/main.ts",
  readings: "src/readings/main.ts",
  tuning: "src/tuning/main.ts",
  verify: "src/verify/main.ts",
  plan: "src/plan/main.ts",
  card: "src/card/main.ts",
};

/** Pages that are there without network, and the entries that each loads. */
const apart: Record<string, string[]> = { "/card": ["card"], "/verify": ["main", "verify"] };

const EVALUATES = /\beval\(str\)|\b(?:new )?Function\((?=\w|')/g;
const PLACES = 5;

/**
 * htmx can run code that stands in attributes. The pages' policy forbids it and
 * `allowEval` is off; here the calls are taken out, which lets the rest be made small.
 */
const withoutEval: Plugin = {
  name: "htmx-without-eval",
  transform(code, id) {
    if (!id.endsWith("htmx.esm.js")) return null;
    const found = code.match(EVALUATES)?.length ?? 0;
    if (found !== PLACES) throw new Error(`htmx evaluates in ${found} places, not in ${PLACES}`);
    return { code: code.replace(EVALUATES, (call) => (call.startsWith("eval") ? "undefined" : "Object(")), map: null };
  },
};

export default defineConfig({
  base: "/static/",
  plugins: [withoutEval, squeezed, offline(apart)],
  build: {
    outDir: "../src/limen/static",
    emptyOutDir: true,
    manifest: "manifest.json",
    target: "es2022",
    cssTarget: ["chrome123", "firefox128", "safari17.5"], // these know light-dark()
    // A data: address for a letter or a picture would need a weaker policy.
    assetsInlineLimit: 0,
    chunkSizeWarningLimit: 650, // kB: what draws in space, fetched only when it is opened
    modulePreload: { polyfill: false },
    rolldownOptions: {
      input: entries,
    },
  },
});
