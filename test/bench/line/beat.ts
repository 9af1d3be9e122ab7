import { spawn } from "node:child_process";
import { FRAMES_PER_SECOND } from "../../../src/domain/units.ts";
import * as measure from "./measures.ts";
import { type Row, row } from "./row.ts";
import { type Arrival, type Child, childOf, type Task, type Written } from "./talk.ts";
import type { WatchedRun, WatchedTask } from "./watched.ts";

/** So many busy programs beside the bench. */
const LOADS = (process.env["LOADS"] ?? "4,10,20").split(",").map(Number);

/** What sends the frames of the same watched run. */
const SENDS: Readonly<Record<string, WatchedTask["sends"]>> = {
  here: "the run",
  apart: "a process",
  session: "a process of its own session",
};

/**
 * Who holds the beat on a busy computer: the program's own run with its screen, its frames sent by the run itself, by another
 * process of the same session, and by one of a session of its own as the program does; and dmx-ts's own driver, its main
 * thread busy as if it drew. All at the same time, beside busy programs of the bench's session. Real seconds: about eight times `seconds`.
 */
export const beatBench = async (seconds = Number(process.env["SECONDS"] ?? 15)): Promise<readonly Row[]> => {
  const rows: Row[] = [];
  for (const priority of ["as it was given", "raised"] as const)
    for (const load of LOADS) rows.push(...(await beatAt(load, priority, seconds)));
  return rows;
};

const beatAt = async (load: number, priority: Task["priority"], seconds: number): Promise<readonly Row[]> => {
  const reader = childOf("./reader.js");
  const runs = Object.entries(SENDS).map(([name, sends]) => ({ name, sends, child: childOf("./watched.js") }));
  const other = childOf("./other.js");
  for (const { name, sends, child } of runs) await openOn(reader, child, name, { sends, priority, seconds });
  await openOn(reader, other, "other", { what: "levels", load: "drawing", priority, seconds });
  await reader.ask({ what: "taken", name: "other" });
  const busy = Array.from({ length: load }, () => spawn(process.execPath, ["-e", "for (;;);"], { stdio: "ignore" }));
  try {
    const peer = other.ask<Written>("go");
    const [here, apart, session] = await Promise.all(runs.map(({ child }) => child.ask<WatchedRun>("go")));
    await peer;
    const seen = await reader.ask<readonly Arrival[]>({ what: "report", name: "other" });
    return rowsOf(`load ${load}, priority ${priority}`, seconds, {
      here: here!,
      apart: apart!,
      session: session!,
      seen,
    });
  } finally {
    for (const one of busy) one.kill();
    for (const child of [reader, other, ...runs.map((run) => run.child)]) child.end();
  }
};

const openOn = async (
  reader: Child,
  writer: Child,
  name: string,
  task: Omit<Task, "path"> | Omit<WatchedTask, "path">,
): Promise<void> => {
  const path = await reader.ask<string>({ what: "lay", name });
  await writer.ask({ ...task, path });
};

interface Beaten {
  readonly here: WatchedRun;
  readonly apart: WatchedRun;
  readonly session: WatchedRun;
  readonly seen: readonly Arrival[];
}

const rowsOf = (when: string, seconds: number, { here, apart, session, seen }: Beaten): readonly Row[] => {
  const of = FRAMES_PER_SECOND * seconds;
  const missing = measure.missing(measure.byOrder(measure.within(seen, seconds)), seconds);
  return [
    row(
      `${when}: frames left out by a process of its own session; by the run itself`,
      "frames",
      session.leftOut,
      here.leftOut,
    ),
    row(`${when}: by a process of the same session; by the run itself`, "frames", apart.leftOut, here.leftOut),
    row(`${when}: worst late, process of its own session; the run itself`, "ms", session.worstLateMs, here.worstLateMs),
    row(`${when}: missing at the reader, dmx-ts's own driver`, `of ${of}`, missing),
  ];
};
