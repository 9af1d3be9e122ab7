/** The program in few files, so that it starts quickly; the file-by-file build stays beside it. */
const dist = process.env.LIMBER_DIST ?? "dist";

export default {
  input: {
    main: `${dist}/main.js`,
    worker: `${dist}/io/store/worker.js`,
    "share-worker": `${dist}/app/share/share-worker.js`,
    "diagnosis-worker": `${dist}/run/shell/diagnosis-worker.js`,
  },
  platform: "node",
  // Native parts and what finds its own files stay where npm put them; the last is asked for by ink only when debugging.
  external: ["pg", "serialport", "@photostructure/sqlite", /^dmx-ts/, "react-devtools-core"],
  output: { dir: `${dist}/bundle`, format: "esm" },
};
