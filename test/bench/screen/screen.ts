import { performance } from "node:perf_hooks";
import { argv } from "node:process";
import { setImmediate as turn } from "node:timers/promises";
import { pathToFileURL } from "node:url";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { rackOfOne } from "../../../src/run/batch/batch.ts";
import { screen } from "../../../src/ui/screen.ts";
import { quantile } from "../line/measures.ts";
import { type Row, row, table } from "../line/row.ts";
import { inkAlone } from "./ink-alone.ts";
import { counter, moments, silence, wandering } from "./stage.ts";

/** So much of the hour is also drawn as ink draws by itself. */
const COMPARED_S = 120;
/** The hour is drawn in so many parts, each from the beginning of a full check, so that all of them end at the same page. */
const PARTS = 6;

/** What the screen costs over a simulated hour of full checks at 20 pictures a second: time by hand, drawing for real. */
export const screenBench = async (seconds = 3600): Promise<readonly Row[]> => {
  const compared = Math.min(COMPARED_S, seconds);
  const other = await inkAlone(compared);
  const open = opened();
  const short = await open.draw(compared);
  const parts: { readonly heap: number; readonly p99: number }[] = [];
  for (let part = 0; part < PARTS; part++) {
    const { costs } = await open.draw(seconds / PARTS);
    parts.push({ heap: heap(), p99: quantile(costs, 0.99) });
  }
  open.close();
  const [first, last] = [parts[0], parts.at(-1)];
  const minutes = Math.round(seconds / 60);
  return [
    row("written a second, 80x24", "bytes", short.bytes / compared, other.bytes / compared),
    row("one drawing, p50", "ms", quantile(short.costs, 0.5), quantile(other.costs, 0.5)),
    row("one drawing, p99", "ms", quantile(short.costs, 0.99), quantile(other.costs, 0.99)),
    row(`one drawing, p99 in the last sixth of ${minutes} min`, "ms", last?.p99 ?? 0),
    row(
      `memory after the last sixth of ${minutes} min beside after the first`,
      "MB",
      (last?.heap ?? 0) - (first?.heap ?? 0),
    ),
  ];
};

/** A screen that stays open while time is moved by hand. */
const opened = () => {
  const { stdout, bytes } = counter();
  let now = 0;
  let out = 0;
  const watcher = screen({
    footSwitch: undefined,
    buttons: { press: ["space"], again: ["a"], stop: ["s"] },
    frame: () => out,
    spectacle: () => [wandering(out)],
    colour: true,
    distance: false,
    stdin: silence(),
    stdout,
    now: () => now,
  });
  watcher.listen(() => {});
  const draw = async (seconds: number) => {
    const costs = new Float64Array(seconds * 20);
    const written = bytes();
    let n = 0;
    for (const { session, frame } of moments(seconds)) {
      now += 50;
      out = frame;
      const start = performance.now();
      watcher.show(rackOfOne(session, "r"));
      await turn();
      costs[n++] = performance.now() - start;
    }
    return { bytes: bytes() - written, costs: [...costs] };
  };
  return { draw, close: () => watcher.close() };
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
