import { argv } from "node:process";
import { pathToFileURL } from "node:url";
import { FRAMES_PER_SECOND } from "../../../src/domain/units.ts";
import * as measure from "./measures.ts";
import { type Row, row, table } from "./row.ts";
import { type Arrival, type Child, childOf, type Task, type Written } from "./talk.ts";

/**
 * Our DMX line beside dmx-ts's own framed serial driver: both write at the same time, each into its own pseudo-terminal, and
 * one independent process reads both. Real seconds: two and a half times `seconds` in all.
 */
export const lineBench = async (seconds = Number(process.env["SECONDS"] ?? 60)): Promise<readonly Row[]> => {
  const sweepSeconds = Math.min(24, seconds);
  const idle = await sideBySide({ what: "levels", load: "idle", priority: "as it was given", seconds });
  const busy = await sideBySide({ what: "levels", load: "busy", priority: "as it was given", seconds });
  const sweep = await sideBySide({ what: "sweep", load: "idle", priority: "as it was given", seconds: sweepSeconds });
  return [...gridRows("idle", idle, seconds), ...gridRows("busy 2 ms in 5", busy, seconds), ...sweepRows(sweep)];
};

interface Side {
  readonly arrivals: readonly Arrival[];
  readonly written: Written;
}
interface Pair {
  readonly ours: Side;
  readonly other: Side;
}

const sideBySide = async (task: Omit<Task, "path">): Promise<Pair> => {
  const reader = childOf("./reader.js");
  const [ours, other] = [childOf("./ours.js"), childOf("./other.js")];
  try {
    await openOn(reader, ours, "ours", task);
    await openOn(reader, other, "other", task);
    const [mine, theirs] = await Promise.all([ours.ask<Written>("go"), other.ask<Written>("go")]);
    return {
      ours: { written: mine, arrivals: await seen(reader, "ours", task.seconds) },
      other: { written: theirs, arrivals: await seen(reader, "other", task.seconds) },
    };
  } finally {
    for (const child of [reader, ours, other]) child.end();
  }
};

const openOn = async (reader: Child, writer: Child, name: string, task: Omit<Task, "path">) => {
  const path = await reader.ask<string>({ what: "lay", name });
  await writer.ask({ ...task, path });
  await reader.ask({ what: "taken", name });
};

const seen = async (reader: Child, name: string, seconds: number) =>
  measure.within(await reader.ask<readonly Arrival[]>({ what: "report", name }), seconds);

const gridRows = (when: string, { ours, other }: Pair, seconds: number): readonly Row[] => {
  const [mine, theirs] = [measure.byOwnCount(ours.arrivals), measure.byOrder(other.arrivals)];
  const each = (name: string, unit: string, of: (placed: readonly measure.Placed[]) => number) =>
    row(`${when}: ${name}`, unit, of(mine), of(theirs));
  const quantiles = (name: string, of: (placed: readonly measure.Placed[]) => readonly number[]) =>
    [0.5, 0.99, 1].map((share) =>
      each(`${name}, ${share === 1 ? "max" : `p${share * 100}`}`, "ms", (placed) =>
        measure.quantile(of(placed), share),
      ),
    );
  return [
    each("rate", "Hz", measure.rate),
    each("drift", "ms/min", measure.drift),
    each("missing frames", "frames", (placed) => measure.missing(placed, seconds)),
    row(`${when}: of these skipped by the clock`, "frames", ours.written.frames.skipped),
    row(`${when}: of these dropped at the gate`, "frames", ours.written.frames.dropped),
    ...quantiles("late on the 25 ms grid at the reader", measure.lateness),
    ...quantiles("gap off 25 ms at the reader", measure.unevenness),
    ...[0.5, 0.99, 1].map((share) =>
      row(
        `${when}: late at the send, ${share === 1 ? "max" : `p${share * 100}`}`,
        "ms",
        measure.quantile(ours.written.frames.late, share),
      ),
    ),
    row(`${when}: processor`, "% of a core", ours.written.processor * 100, other.written.processor * 100),
  ];
};

const sweepRows = ({ ours, other }: Pair): readonly Row[] => {
  const frames = ours.arrivals.length;
  const name = `distinct steps of a 16-bit sweep in ${frames} frames`;
  const mine = measure.distinct(ours.arrivals, 1);
  return [
    row(`${name}, other's animation`, "steps", mine, measure.distinct(other.arrivals, 1)),
    row(`${name}, other's split by hand`, "steps", mine, measure.distinct(other.arrivals, 3)),
  ];
};

if (import.meta.url === pathToFileURL(argv[1] ?? "").href) {
  const rows = await lineBench();
  console.log(`${table(rows)}\nframes a second wanted: ${FRAMES_PER_SECOND}`);
}
