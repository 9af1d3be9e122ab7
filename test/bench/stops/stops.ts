import { performance } from "node:perf_hooks";
import { framesBefore, warmUp } from "../../../src/app/fixture/warm-up.ts";
import { simulatedJob } from "../../../src/app/simulated/start.ts";
import { fastClock } from "../../../src/io/clock/fast-clock.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/silent.ts";
import type { Conduct } from "../../../src/run/batch/conduct.ts";
import { singleRun } from "../../../src/run/batch/single.ts";
import type { DiagnosisDoor } from "../../../src/run/ports.ts";
import type { Input } from "../../../src/run/session/input.ts";
import { openSession, type Session } from "../../../src/run/session/session.ts";
import { diagnosedHere, diagnosisThread } from "../../../src/run/shell/diagnosis-thread.ts";
import { onlyLine } from "../../../src/run/shell/doors.ts";
import { Shell } from "../../../src/run/shell/shell.ts";
import { observer } from "../../../src/sim/observer/observer.ts";
import { SimulatedWatcher } from "../../../src/sim/watcher.ts";
import { type Row, row } from "../line/row.ts";

const SET = ["pan-track-dented"];
const PASSES = 2;

/**
 * How long an answer keeps the thread that sends frames from sending any, over a whole check-in of a simulated fixture with
 * something wrong: with the diagnosis on a thread of its own, and worked out on the spot as it was before. The better of two
 * runs each, so that what else the computer does counts less.
 */
export const stopsBench = async (): Promise<readonly Row[]> => {
  const rows: Row[] = [];
  for (const fault of SET) {
    const beside = await shortest(() => longestStop(fault, diagnosisThread()));
    const here = await shortest(() => longestStop(fault, diagnosedHere));
    rows.push(
      row(`longest stop of the frames in a check-in, ${fault}, beside worked out on the spot`, "ms", beside, here),
    );
  }
  return rows;
};

const shortest = async (measure: () => Promise<number>): Promise<number> => {
  let best = Number.POSITIVE_INFINITY;
  for (let pass = 0; pass < PASSES; pass++) best = Math.min(best, await measure());
  return best;
};

const longestStop = async (fault: string, door: DiagnosisDoor): Promise<number> => {
  const names = { profile: "spot-16bit", sequence: "check-in", bench: "bench" };
  const order = { names, address: 1, set: [fault], seed: 7, drawFrom: "all", copy: "drawn" } as const;
  const made = simulatedJob(fileLibrary(), order, "attended");
  if (!made.ok) throw new Error(`${fault} cannot be set`);
  const { job, bench } = made.value;
  const session = openSession(job, "KM");
  warmUp(bench.line, framesBefore(session));
  const stops = new Stops();
  const shell: Shell<Session, Input> = new Shell(stops.timed(singleRun(session, "r")), {
    clock: fastClock(() => shell.busy()),
    lines: onlyLine(bench.line),
    journal: memoryJournal(),
    watcher: new SimulatedWatcher(bench.line, observer(bench.build, 7), 0, bench.hands),
    voice: silentVoice,
    log: silentLog,
    diagnosis: stops.asked(door),
    questions: new Map(),
    byHand: bench.hands.did,
    signals: () => () => {},
    mishaps: () => () => {},
    bench: "bench",
  });
  await shell.run();
  await door.close();
  return stops.longest;
};

/** Time spent between an input and the next frame: the step itself, and what it asks of the door at once. */
class Stops {
  longest = 0;
  private last = 0;

  timed(conduct: Conduct<Session, Input>): Conduct<Session, Input> {
    return { ...conduct, step: (state, input) => this.time(() => conduct.step(state, input)) };
  }

  asked(door: DiagnosisDoor): DiagnosisDoor {
    return { ...door, ask: (findings) => this.time(() => door.ask(findings), this.last) };
  }

  private time<T>(work: () => T, before = 0): T {
    const begun = performance.now();
    const done = work();
    this.last = before + performance.now() - begun;
    this.longest = Math.max(this.longest, this.last);
    return done;
  }
}
