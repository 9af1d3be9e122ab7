/**
 * What is shipped: the program and its worker threads, bundled from the sources with every library that is plain
 * JavaScript, so that it starts quickly and brings few packages along. Tests bundle into a folder of their own.
 */
const dist = process.env.LIMBER_DIST ?? "dist/bundle";

export default {
  input: {
    main: "src/start.ts",
    worker: "src/io/store/worker.ts",
    "share-worker": "src/app/share/share-worker.ts",
    "diagnosis-worker": "src/run/shell/diagnosis-worker.ts",
  },
  platform: "node",
  // Native parts stay where npm put them; the others are asked for only by somebody who installs or debugs them.
  external: ["serialport", "@photostructure/sqlite", "react-devtools-core", "pg-native"],
  output: { dir: dist, format: "esm" },
};
