import { gzipSync } from "node:zlib";
import type { Plugin } from "vite";

const TEXT = /\.(?:js|css|svg)$/;
const WORTH_IT = 1000; // bytes

/** Beside each text of the bundle the same, compressed once and for all. */
export const squeezed: Plugin = {
  name: "squeezed",
  generateBundle: {
    order: "post",
    handler(_, bundle) {
      for (const [fileName, file] of Object.entries(bundle)) {
        const text = file.type === "chunk" ? file.code : file.source;
        if (!TEXT.test(fileName) || text.length < WORTH_IT) continue;
        this.emitFile({
          type: "asset",
          fileName: `${fileName}.gz`,
          source: gzipSync(text, { level: 9 }),
        });
      }
    },
  },
};
