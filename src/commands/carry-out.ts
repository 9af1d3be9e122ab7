import { fastClock } from "../clock/fast-clock.ts";
import { frameClock } from "../clock/frame-clock.ts";
import { fileLog } from "../log/file.ts";
import type { Journal, Watcher } from "../ports.ts";
import { tellJobSheet } from "../report/job-sheet-text.ts";
import { systemMishaps, systemSignals } from "../run/signals.ts";
import type { Session } from "../session/session.ts";
import { silentVoice } from "../voice/silent.ts";
import type { ExitCode } from "./exit.ts";
import { exitFor, playRun, sheetFrom } from "./play-run.ts";
import { complain, print } from "./print.ts";
import type { Rig, RigOptions } from "./rig.ts";

/** How a run is carried out, whatever it plays. */
export interface RunOptions extends RigOptions {
  readonly journal: string;
  readonly person: string;
  /** The name of the new run. */
  readonly run: string;
  readonly json: boolean;
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
    const line = await rig.open();
    const ended = await playRun(session, run, {
      clock: options.fast ? fastClock : () => frameClock(),
      line,
      journal,
      watcher: (frame) => watcherFor(rig, frame),
      voice: silentVoice,
      log: fileLog(),
      mainsOn: rig.mainsOn,
      signals: systemSignals,
      mishaps: systemMishaps,
    });
    if (ended.trouble !== undefined) complain(ended.trouble);
    if (ended.trouble === undefined || ended.view.steps.some(({ judged }) => judged)) {
      const sheet = await sheetFrom(journal, run, session.job.timeline.profile);
      print(options.json ? JSON.stringify(sheet, undefined, 2) : tellJobSheet(sheet));
    }
    return exitFor(ended);
  } finally {
    await journal.close();
  }
};

const watcherFor = (rig: Rig, _frame: () => number): Watcher => {
  if (rig.watcher) return rig.watcher;
  throw new Error("Bug: no screen yet");
};
