import { fastClock } from "../clock/fast-clock.ts";
import { silentLog } from "../log/file.ts";
import type { Shelf } from "../ports.ts";
import { good, type Result } from "../problem/problem.ts";
import type { JobSheet } from "../report/job-sheet.ts";
import { tellJobSheet } from "../report/job-sheet-text.ts";
import { systemMishaps, systemSignals } from "../run/signals.ts";
import { openSession } from "../session/session.ts";
import { fileShelf } from "../shelf/files.ts";
import { onlooker } from "../sim/onlooker/onlooker.ts";
import { SimulatedWatcher } from "../sim/watcher.ts";
import { memoryJournal } from "../store/memory.ts";
import { silentVoice } from "../voice/silent.ts";
import { loadMaterial, type Names } from "./data.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { jobFor } from "./job.ts";
import { playRun, sheetFrom } from "./play-run.ts";
import { print, refuse } from "./print.ts";
import { type SimOrder, simBench } from "./sim-bench.ts";

export interface StartOptions extends SimOrder {
  readonly names: Names;
  readonly run: string;
  readonly json: boolean;
}

/** Without a terminal: the whole job on the simulated bench, watched by the simulated watcher, in no real time. */
export const startUnattended = async (options: StartOptions): Promise<ExitCode> => {
  const sheet = await simulatedRun(fileShelf(), options);
  if (!sheet.ok) return refuse(sheet.problems);
  print(options.json ? JSON.stringify(sheet.value, undefined, 2) : tellJobSheet(sheet.value));
  return EXIT.done;
};

/** One unattended run on the simulated bench. */
export const simulatedRun = async (
  shelf: Shelf,
  options: SimOrder & { readonly names: Names; readonly run: string },
): Promise<Result<JobSheet>> => {
  const material = loadMaterial(shelf, options.names);
  if (!material.ok) return material;
  const bench = simBench(material.value, options);
  if (!bench.ok) return bench;
  const { line, build, set } = bench.value;
  const job = jobFor(material.value, {
    serial: "simulated",
    universe: 1,
    address: options.address,
    output: "sim",
    simulated: true,
    set,
    mode: "attended",
    replays: undefined,
  });
  if (!job.ok) return job;
  const journal = memoryJournal();
  await playRun(openSession(job.value, "sim"), options.run, {
    clock: fastClock,
    line,
    journal,
    watcher: () => new SimulatedWatcher(line, onlooker(build, options.seed)),
    voice: silentVoice,
    log: silentLog,
    mainsOn: () => line.mains("on"),
    signals: systemSignals,
    mishaps: systemMishaps,
  });
  return good(await sheetFrom(journal, options.run, material.value.profile.value));
};
