import { defineConfig } from "vite";

/** The job card as one script and one style sheet, letters inside: for a file without a server. */
export default defineConfig({
  base: "./",
  publicDir: false,
  build: {
    outDir: "../src/limen/static/onefile",
    emptyOutDir: true,
    target: "es2022",
    cssTarget: ["chrome123", "firefox128", "safari17.5"], // as in vite.config.ts
    assetsInlineLimit: Number.POSITIVE_INFINITY,
    reportCompressedSize: false,
    lib: {
      entry: "src/card/onefile.ts",
      formats: ["iife"],
      name: "limenCard",
      fileName: () => "card.js",
      cssFileName: "card",
    },
  },
});
