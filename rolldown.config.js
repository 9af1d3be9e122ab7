import { readFileSync } from "node:fs";

/**
 * What is shipped: the program and its worker threads, bundled from the sources with every library that is plain
 * JavaScript, so that it starts quickly and brings few packages along. Tests bundle into a folder of their own.
 */
const dist = process.env.LIMBER_DIST ?? "dist/bundle";

/** Files that are read at run time from beside the bundle. */
const beside = (files) => ({
  name: "beside",
  generateBundle() {
    for (const [fileName, from] of Object.entries(files))
      this.emitFile({ type: "asset", fileName, source: readFileSync(from) });
  },
});

const program = {
  input: {
    main: "src/start.ts",
    worker: "src/io/store/worker.ts",
    "share-worker": "src/app/share/share-worker.ts",
    "diagnosis-worker": "src/run/shell/diagnosis-worker.ts",
    "frames-main": "src/app/fixture/frames-main.ts",
    "phone-worker": "src/io/phone/worker.ts",
  },
  platform: "node",
  // Native parts stay where npm put them; the others are asked for only by somebody who installs or debugs them.
  external: ["serialport", "@photostructure/sqlite", "react-devtools-core", "pg-native"],
  plugins: [
    beside({
      "phone-page.html": "src/phone-page/phone-page.html",
      "phone-page.css": "src/phone-page/phone-page.css",
      "label-reader.wasm": "node_modules/zxing-wasm/dist/reader/zxing_reader.wasm",
    }),
  ],
  output: { dir: dist, format: "esm" },
};

/** The page on the phone: one script, put whole into the page. */
const phonePage = {
  input: { "phone-page": "src/phone-page/main.ts" },
  platform: "browser",
  output: { dir: dist, format: "iife" },
};

export default [program, phonePage];
