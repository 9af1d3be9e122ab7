import { spawn } from "node:child_process";
import { FRAMES_PER_SECOND } from "../../../src/domain/units.ts";
import * as measure from "./measures.ts";
import { type Row, row } from "./row.ts";
import { type Arrival, type Child, childOf, type Task, type Written } from "./talk.ts";

/** So many busy programs beside the bench. */
const LOADS = [4, 10, 20];

type Work = Omit<Task, "path">;

/**
 * Who holds the beat on a busy computer: our frames sent by the main thread, by a thread of their own, and dmx-ts's own
 * driver, all three at the same time, each main thread busy as if it drew a screen. Real seconds: six times `seconds`.
 */
export const beatBench = async (seconds = Number(process.env["SECONDS"] ?? 15)): Promise<readonly Row[]> => {
  const rows: Row[] = [];
  for (const priority of ["as it was given", "raised"] as const)
    for (const load of LOADS)
      rows.push(...(await beatAt(load, { what: "levels", load: "drawing", priority, seconds })));
  return rows;
};

const beatAt = async (load: number, task: Work): Promise<readonly Row[]> => {
  const reader = childOf("./reader.js");
  const [main, thread, other] = [childOf("./ours.js"), childOf("./ours-threaded.js"), childOf("./other.js")];
  for (const [name, writer] of Object.entries({ main, thread, other })) await openOn(reader, writer, name, task);
  const busy = Array.from({ length: load }, () => spawn(process.execPath, ["-e", "for (;;);"], { stdio: "ignore" }));
  try {
    const [onMain, onThread] = await Promise.all([main, thread, other].map((one) => one.ask<Written>("go")));
    return rowsOf(`load ${load}, priority ${task.priority}`, task.seconds, {
      main: { written: onMain!, seen: await arrivalsOf(reader, "main") },
      thread: { written: onThread!, seen: await arrivalsOf(reader, "thread") },
      other: { seen: await arrivalsOf(reader, "other") },
    });
  } finally {
    for (const one of busy) one.kill();
    for (const child of [reader, main, thread, other]) child.end();
  }
};

const openOn = async (reader: Child, writer: Child, name: string, task: Work): Promise<void> => {
  const path = await reader.ask<string>({ what: "lay", name });
  await writer.ask({ ...task, path });
  await reader.ask({ what: "taken", name });
};

const arrivalsOf = (reader: Child, name: string) => reader.ask<readonly Arrival[]>({ what: "report", name });

interface Seen {
  readonly written: Written;
  readonly seen: readonly Arrival[];
}

const rowsOf = (
  when: string,
  seconds: number,
  { main, thread, other }: { readonly main: Seen; readonly thread: Seen; readonly other: Pick<Seen, "seen"> },
): readonly Row[] => {
  const missing = ({ seen }: Pick<Seen, "seen">) =>
    measure.missing(measure.byOrder(measure.within(seen, seconds)), seconds);
  const late = ({ written }: Seen, share: number) => measure.quantile(written.frames.late, share);
  const leftOut = ({ written: { frames } }: Seen) => frames.skipped + frames.dropped;
  const of = FRAMES_PER_SECOND * seconds;
  return [
    row(
      `${when}: frames left out by the main thread; by a thread of its own`,
      `of ${of}`,
      leftOut(main),
      leftOut(thread),
    ),
    row(`${when}: late at the send p99; thread`, "ms", late(main, 0.99), late(thread, 0.99)),
    row(`${when}: late at the send, worst; thread`, "ms", late(main, 1), late(thread, 1)),
    row(`${when}: missing at the reader, main thread; dmx-ts's own driver`, `of ${of}`, missing(main), missing(other)),
  ];
};
