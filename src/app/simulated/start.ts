import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import { good, type Result } from "../../domain/problem/problem.ts";
import type { InspectionId } from "../../domain/trade/inspections.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { fileLog, silentLog } from "../../io/log/file.ts";
import { memoryJournal } from "../../io/store/memory.ts";
import { silentVoice } from "../../io/voice/speech.ts";
import type { JobSheet } from "../../reports/job-sheet.ts";
import { tellJobSheet } from "../../reports/job-sheet-text.ts";
import type { DataLibrary, DiagnosisDoor, Journal } from "../../run/ports.ts";
import type { Job } from "../../run/session/job.ts";
import { openSession } from "../../run/session/session.ts";
import { onlyLine, sentHere } from "../../run/shell/frame-sender.ts";
import { type Signals, systemSignals, untilTold } from "../../run/shell/signals.ts";
import { EXACT, type Habits } from "../../sim/observer/habits.ts";
import { observer } from "../../sim/observer/observer.ts";
import { SimulatedWatcher } from "../../sim/watcher.ts";
import { loadMaterial, type Material, type Names, otherProfiles } from "../common/data.ts";
import { complain, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { personHere } from "../fixture/eyes.ts";
import { jobFor, knowing } from "../fixture/job.ts";
import { exitFor, FAST, playRun, realTime, sheetFrom } from "../fixture/play-run.ts";
import { framesBefore, type SimBench, type SimOrder, sightOf, simBench, warmUp, warmUpMeanwhile } from "./sim-bench.ts";

export interface StartOptions extends SimOrder {
  readonly names: Names;
  readonly run: string;
  readonly json: boolean;
}

/**
 * Does the whole job on the simulated bench without a terminal, watched by the simulated watcher, faster than real time.
 */
export const startUnattended = (options: StartOptions): Promise<ExitCode> => {
  return untilTold(async (signals) => {
    const sheet = await simulatedRun(fileLibrary(), options, signals);
    if (!sheet.ok) return refuse(sheet.problems);
    print(options.json ? JSON.stringify(sheet.value, undefined, 2) : tellJobSheet(sheet.value));
    return EXIT.done;
  });
};

export interface ScreenStartOptions extends StartOptions {
  readonly plain: boolean;
  readonly distance: boolean;
  readonly mode: "attended" | "hands-off";
}

/**
 * Opens the simulated bench under a terminal, with something hidden in the fixture, in
 * real time, watched by whoever sits there.
 */
export const startOnScreen = (options: ScreenStartOptions): Promise<ExitCode> =>
  untilTold((signals) => playedOnScreen(options, signals));

const playedOnScreen = async (options: ScreenStartOptions, signals: Signals): Promise<ExitCode> => {
  const made = simulatedJob(fileLibrary(), options, options.mode);
  if (!made.ok) return refuse(made.problems);
  const { material, bench, job } = made.value;
  const person = await personHere({
    bench: material.bench.value,
    line: "simulated",
    plain: options.plain,
    distance: options.distance,
    spectacle: sightOf(bench.line),
    phone: undefined,
  });
  if (!person.ok) return refuse(person.problems);
  warmUpMeanwhile(bench.line, framesBefore(openSession(job, "")));
  const journal = memoryJournal();
  const log = fileLog();
  const ended = await playRun(openSession(job, ""), options.run, {
    ...realTime("all simulated", log),
    frames: sentHere(onlyLine(bench.line)),
    questions: new Map(),
    journal,
    watcher: person.value.watcher,
    voice: person.value.voice,
    log,
    byHand: bench.hands.did,
    signals,
  });
  person.value.close();
  if (ended.trouble !== undefined) complain(ended.trouble);
  const sheet = await sheetFrom(journal, options.run, material.profile.value, job);
  print(options.json ? JSON.stringify(sheet, undefined, 2) : tellJobSheet(sheet));
  return exitFor(ended);
};

/** One unattended run on the simulated bench and its job sheet; or why the order cannot be played. */
export const simulatedRun = async (
  shelf: DataLibrary,
  options: SimOrder & { readonly names: Names; readonly run: string },
  signals: Signals = systemSignals,
): Promise<Result<JobSheet>> => {
  const made = simulatedJob(shelf, options, "attended");
  if (!made.ok) return made;
  const journal = memoryJournal();
  await playSimulated(made.value, options.run, journal, { seed: options.seed, habits: EXACT, followUps: 0 }, signals);
  return good(await sheetFrom(journal, options.run, made.value.material.profile.value, made.value.job));
};

/** Who watches, and how much of what is offered at the end they do. */
export interface SimulatedPerson {
  readonly seed: number;
  readonly habits: Habits;
  readonly followUps: number;
}

/**
 * Plays a job faster than real time, watched by a simulated person, into this journal. Returns the inspections that this
 * person chose of what was offered, in their order.
 */
export const playSimulated = async (
  { bench, job }: SimulatedJob,
  run: string,
  journal: Journal,
  { seed, habits, followUps }: SimulatedPerson,
  signals: Signals = systemSignals,
  diagnosis: DiagnosisDoor = FAST.diagnosis,
): Promise<readonly InspectionId[]> => {
  const { line, build, hands } = bench;
  const watcher = new SimulatedWatcher(line, observer(build, seed, habits), 0, hands, followUps);
  warmUp(line, framesBefore(openSession(job, "sim")));
  await playRun(openSession(job, "sim"), run, {
    ...FAST,
    diagnosis,
    frames: sentHere(onlyLine(line)),
    questions: new Map(),
    journal,
    watcher: () => watcher,
    voice: silentVoice,
    log: silentLog,
    byHand: hands.did,
    signals,
  });
  return watcher.inspections;
};

export interface SimulatedJob {
  readonly material: Material;
  readonly bench: SimBench;
  readonly job: Job;
}

/** A job on the simulated bench, with its fixture; or everything that is wrong with the order. */
export const simulatedJob = (
  shelf: DataLibrary,
  options: SimOrder & { readonly names: Names; readonly serial?: string },
  mode: "attended" | "hands-off",
): Result<SimulatedJob> => {
  const material = loadMaterial(shelf, options.names);
  if (!material.ok) return material;
  const bench = simBench(material.value, options);
  if (!bench.ok) return bench;
  const { set } = bench.value;
  const order = {
    serial: options.serial ?? "simulated",
    universe: 1,
    address: options.address,
    output: "sim",
    simulated: true,
    set,
    mode,
    replays: undefined,
    hire: undefined,
  };
  const made = jobFor(material.value, order);
  if (!made.ok) return made;
  const job = knowing(made.value, otherProfiles(shelf, material.value.profile.value), NOTHING_LEARNED);
  return good({ material: material.value, bench: bench.value, job });
};
