import { fastClock } from "../clock/fast-clock.ts";
import { frameClock } from "../clock/frame-clock.ts";
import { fileLog } from "../log/file.ts";
import type { Journal, Voice, Watcher } from "../ports.ts";
import { good, type Result } from "../problem/problem.ts";
import { tellJobSheet } from "../report/job-sheet-text.ts";
import { systemMishaps, systemSignals } from "../run/signals.ts";
import type { Session } from "../session/session.ts";
import { silentVoice } from "../voice/silent.ts";
import type { ExitCode } from "./exit.ts";
import { personHere } from "./person.ts";
import { exitFor, playRun, sheetFrom } from "./play-run.ts";
import { complain, print, refuse } from "./print.ts";
import type { Rig, RigOptions } from "./rig.ts";
import { sightOf } from "./sim-sight.ts";
import { framesBefore, warmUp } from "./warm-up.ts";

/** How a run is carried out, whatever it plays. */
export interface RunOptions extends RigOptions {
  readonly journal: string;
  readonly person: string;
  /** The name of the new run. */
  readonly run: string;
  readonly json: boolean;
  readonly plain: boolean;
  readonly distance: boolean;
}

export interface Undertaking {
  readonly session: Session;
  readonly run: string;
  readonly rig: Rig;
  readonly journal: Journal;
}

/** Plays a session on its rig, keeps it in the journal, prints the job sheet. */
export const carryOut = async (options: RunOptions, { session, run, rig, journal }: Undertaking): Promise<ExitCode> => {
  try {
    const eyes = await eyesFor(options, session, rig);
    if (!eyes.ok) return refuse(eyes.problems);
    if (rig.bench) warmUp(rig.bench.line, framesBefore(session));
    const ended = await playRun(session, run, {
      clock: options.fast ? fastClock : () => frameClock(),
      line: await rig.open(),
      journal,
      watcher: eyes.value.watcher,
      voice: eyes.value.voice,
      log: fileLog(),
      byHand: rig.byHand,
      signals: systemSignals,
      mishaps: systemMishaps,
    });
    eyes.value.close();
    await tellEnd(options, ended, run, journal);
    return exitFor(ended);
  } finally {
    await journal.close();
  }
};

interface Eyes {
  readonly watcher: (frame: () => number) => Watcher;
  readonly voice: Voice;
  close(): void;
}

/** The simulated watcher where one was asked for, else the person at this terminal. */
const eyesFor = async (
  { plain, distance }: RunOptions,
  { job }: Session,
  { watcher, bench }: Rig,
): Promise<Result<Eyes>> =>
  watcher
    ? good({ watcher: () => watcher, voice: silentVoice, close: () => {} })
    : personHere({ bench: job.bench, plain, distance, spectacle: bench && sightOf(bench.line) });

const tellEnd = async ({ json }: RunOptions, ended: Session, run: string, journal: Journal): Promise<void> => {
  if (ended.trouble !== undefined) complain(ended.trouble);
  // A run that failed before anything was judged has nothing to put on a page.
  if (ended.trouble !== undefined && !ended.view.steps.some(({ judged }) => judged)) return;
  const sheet = await sheetFrom(journal, run, ended.job.timeline.profile, ended.job);
  print(json ? JSON.stringify(sheet, undefined, 2) : tellJobSheet(sheet));
};
