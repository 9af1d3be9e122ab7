import { performance } from "node:perf_hooks";
import { argv } from "node:process";
import { setImmediate as turn } from "node:timers/promises";
import { pathToFileURL } from "node:url";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { screen } from "../../../src/screen/screen.ts";
import { quantile } from "../line/measures.ts";
import { type Row, row, table } from "../line/row.ts";
import { inkAlone } from "./ink-alone.ts";
import { counter, moments, silence, wandering } from "./stage.ts";

/** So much of the hour is also drawn as ink draws by itself. */
const COMPARED_S = 120;

/** What the screen costs over a simulated hour of full checks at 20 pictures a second: time by hand, drawing for real. */
export const screenBench = async (seconds = 3600): Promise<readonly Row[]> => {
  const compared = Math.min(COMPARED_S, seconds);
  const short = await drawn(compared, () => {});
  const other = await inkAlone(compared);
  const heaps: number[] = [];
  const long = await drawn(seconds, () => heaps.push(heap()));
  const [early = 0, late = 0] = [heaps[1], heaps.at(-1)];
  return [
    row("written a second, 80x24", "bytes", short.bytes / compared, other.bytes / compared),
    row("one drawing, p50", "ms", quantile(short.costs, 0.5), quantile(other.costs, 0.5)),
    row("one drawing, p99", "ms", quantile(short.costs, 0.99), quantile(other.costs, 0.99)),
    row(`one drawing, p99 over ${Math.round(seconds / 60)} min`, "ms", quantile(long.costs, 0.99)),
    row(`memory kept, last tenth beside first tenth of ${Math.round(seconds / 60)} min`, "MB", late - early),
  ];
};

const drawn = async (seconds: number, tenth: () => void) => {
  const { stdout, bytes } = counter();
  const costs: number[] = [];
  let now = 0;
  let out = 0;
  const watcher = screen({
    buttons: { press: ["space"], again: ["a"], stop: ["s"] },
    frame: () => out,
    spectacle: () => wandering(out),
    colour: true,
    distance: false,
    stdin: silence(),
    stdout,
    now: () => now,
  });
  watcher.listen(() => {});
  const all = seconds * 20;
  let count = 0;
  for (const { session, frame } of moments(seconds)) {
    now += 50;
    out = frame;
    const start = performance.now();
    watcher.show(session);
    await turn();
    costs.push(performance.now() - start);
    if (count++ % Math.ceil(all / 10) === 0) tenth();
  }
  tenth();
  watcher.close();
  return { bytes: bytes(), costs };
};

setFlagsFromString("--expose-gc");
const collect = runInNewContext("gc") as () => void;
/** MB in use after everything that nobody needs was thrown away. */
const heap = (): number => {
  collect();
  return process.memoryUsage().heapUsed / 1e6;
};

if (import.meta.url === pathToFileURL(argv[1] ?? "").href)
  console.log(table(await screenBench(Number(process.env["SECONDS"] ?? 3600))));
