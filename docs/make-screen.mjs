// Draws docs/screen.svg from the program itself: plays the simulated bench in a terminal until a step moves, and turns
// what stands there into a picture. Run it with "npm run picture" after "npm run build".
import { writeFileSync } from "node:fs";
import { spawn } from "@lydell/node-pty";
import headless from "@xterm/headless";

const COLUMNS = 80;
const ROWS = 24;
const CELL = { width: 8.4, height: 18 };
const EDGE = 14;
/** A page that gives movement asks for its letter no sooner than this after it was drawn. */
const FRESH_MS = 700;

const terminal = new headless.Terminal({ cols: COLUMNS, rows: ROWS, allowProposedApi: true });
const program = spawn(process.execPath, ["dist/bundle/main.js", "start", "--set", "pan-drive-slack"], {
  name: "xterm-256color",
  cols: COLUMNS,
  rows: ROWS,
  env: { ...process.env, NO_COLOR: "1" },
});
program.onData((data) => terminal.write(data));

const screen = () =>
  Array.from({ length: ROWS }, (_, row) =>
    (terminal.buffer.active.getLine(terminal.buffer.active.baseY + row)?.translateToString(true) ?? "").trimEnd(),
  );
const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
const until = async (says) => {
  for (let waited = 0; !says.test(screen().join("\n")); waited += 100) {
    if (waited > 120_000) throw new Error(`The screen never said ${says}; it says:\n${screen().join("\n")}`);
    await pause(100);
  }
};

const escaped = (text) => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
const drawn = (rows) => {
  const width = Math.ceil(COLUMNS * CELL.width + 2 * EDGE);
  const height = ROWS * CELL.height + 2 * EDGE;
  const lines = rows.map((text, row) =>
    text === ""
      ? ""
      : `<text x="${EDGE}" y="${EDGE + (row + 0.75) * CELL.height}" textLength="${(text.length * CELL.width).toFixed(1)}" style="white-space: pre">${escaped(text)}</text>`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="A step of a run on the terminal">
<rect width="${width}" height="${height}" rx="6" fill="#17191d"/>
<g fill="#e6e7e9" font-family="ui-monospace, monospace" font-size="14">
${lines.filter((line) => line !== "").join("\n")}
</g>
</svg>
`;
};

await until(/BEFORE ANYTHING MOVES/);
await pause(FRESH_MS);
program.write("c");
await until(/WHAT DID YOU SEE/);
await pause(FRESH_MS);
program.write("\r");
await until(/Full sweep[\s\S]*pan {3}\[/);
await pause(2500);
writeFileSync("docs/screen.svg", drawn(screen()));
program.kill();
