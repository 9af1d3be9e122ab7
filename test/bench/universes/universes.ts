import * as measure from "../line/measures.ts";
import { type Row, row } from "../line/row.ts";
import { type Arrival, childOf, type Task, type Written } from "../line/talk.ts";

/** So many at once, in one process. */
export const UNIVERSES = 16;

/**
 * Sixteen universes of sACN beside dmx-ts's own driver under a timer, both at the same time on the loopback network, each
 * with an independent reading process. Real seconds: twice `seconds`.
 */
export const universesBench = async (seconds = Number(process.env["SECONDS"] ?? 60)): Promise<readonly Row[]> => [
  ...(await rowsUnder("idle", "idle", seconds)),
  ...(await rowsUnder("busy", "busy 2 ms in 5", seconds)),
];

const rowsUnder = async (load: Task["load"], words: string, seconds: number): Promise<readonly Row[]> => {
  const sides = await sideBySide(load, seconds);
  // Under the load it would be the load's own.
  return [...rows(words, sides, seconds), ...(load === "idle" ? [processor(sides)] : [])];
};

interface Side {
  readonly written: Written;
  /** Of every universe, in order. */
  readonly arrivals: readonly (readonly Arrival[])[];
}

interface Sides {
  readonly ours: Side;
  readonly other: Side;
}

const sideBySide = async (load: Task["load"], seconds: number): Promise<Sides> => {
  const [ours, other] = await Promise.all([
    sideOf("../universes/ours.js", { path: "127.40.0.1", what: "levels", load, priority: "as it was given", seconds }),
    sideOf("../universes/other.js", { path: "127.40.0.2", what: "levels", load, priority: "as it was given", seconds }),
  ]);
  return { ours, other };
};

const sideOf = async (file: string, task: Task): Promise<Side> => {
  const [reader, writer] = [childOf("../universes/reader.js"), childOf(file)];
  try {
    await reader.ask({ listen: task.path });
    await writer.ask(task);
    const written = await writer.ask<Written>("go");
    const all = await reader.ask<readonly (readonly Arrival[])[]>("report");
    return { written, arrivals: all.map((arrivals) => measure.within(arrivals, task.seconds)) };
  } finally {
    for (const child of [reader, writer]) child.end();
  }
};

const rows = (when: string, { ours, other }: Sides, seconds: number): readonly Row[] => {
  const each = (name: string, unit: string, of: (side: Side) => number) =>
    row(`${when}: ${name}`, unit, of(ours), of(other));
  const quantiles = (name: string, of: (side: Side) => readonly number[]) =>
    [0.5, 0.99, 1].map((share) =>
      each(`${name}, ${shareWords(share)}`, "ms", (side) => measure.quantile(of(side), share)),
    );
  return [
    each("rate of the last universe", "Hz", (side) => measure.rate(last(side))),
    each("drift", "ms/min", (side) => measure.drift(last(side))),
    each(`frames missing of ${40 * seconds * UNIVERSES}, all universes`, "frames", (side) => missing(side, seconds)),
    ...quantiles("last universe late on the 25 ms grid at the reader", (side) => measure.lateness(last(side))),
    ...[0.5, 0.99, 1].map((share) =>
      row(
        `${when}: last universe handed over after its deadline, ${shareWords(share)}`,
        "ms",
        measure.quantile(ours.written.frames.late, share),
      ),
    ),
  ];
};

const processor = ({ ours, other }: Sides): Row => {
  const perHour = ({ written }: Side) => (written.processor * 3600) / UNIVERSES;
  return row("idle: processor per universe-hour", "s", perHour(ours), perHour(other));
};

const shareWords = (share: number) => (share === 1 ? "max" : `p${share * 100}`);

/** Both carry their frame's number. */
const last = ({ arrivals }: Side) => measure.byOwnCount(arrivals.at(-1) ?? []);

const missing = ({ arrivals }: Side, seconds: number) =>
  Array.from({ length: UNIVERSES }, (_, index) =>
    measure.missing(measure.byOrder(arrivals[index] ?? []), seconds),
  ).reduce((sum, one) => sum + one, 0);
