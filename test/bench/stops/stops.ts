import { performance } from "node:perf_hooks";
import { framesBefore, warmUp } from "../../../src/app/fixture/warm-up.ts";
import { simulatedJob } from "../../../src/app/simulated/start.ts";
import { fastClock } from "../../../src/io/clock/fast-clock.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/silent.ts";
import type { Batch } from "../../../src/run/batch/batch.ts";
import type { RackInput } from "../../../src/run/batch/input.ts";
import { rackOfOne } from "../../../src/run/batch/one.ts";
import type { Clock, DiagnosisDoor, Watcher } from "../../../src/run/ports.ts";
import { openSession } from "../../../src/run/session/session.ts";
import { diagnosedHere, diagnosisThread } from "../../../src/run/shell/diagnosis-thread.ts";
import { onlyLine, watchesOne } from "../../../src/run/shell/doors.ts";
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
  const eyes = new SimulatedWatcher(bench.line, observer(bench.build, 7), 0, bench.hands);
  const shell: Shell = new Shell(rackOfOne(session, "r"), {
    clock: stops.from(fastClock(() => shell.busy())),
    lines: onlyLine(bench.line),
    journal: memoryJournal(),
    watcher: stops.until(watchesOne(eyes, "r")),
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

/**
 * Time spent between an input and the next frame: the step itself, and what it asks of the door at once. The shell reads its
 * clock when an input comes, and shows whoever watches what became of it.
 */
class Stops {
  longest = 0;
  private came = 0;
  private last = 0;

  from(clock: Clock): Clock {
    return {
      ...clock,
      now: () => {
        this.came = performance.now();
        return clock.now();
      },
    };
  }

  until(watcher: Watcher<Batch, RackInput>): Watcher<Batch, RackInput> {
    return {
      show: (batch) => {
        this.spent(performance.now() - this.came);
        watcher.show(batch);
      },
      listen: (answer) => watcher.listen(answer),
      close: () => watcher.close(),
    };
  }

  asked(door: DiagnosisDoor): DiagnosisDoor {
    return {
      ...door,
      ask: (findings) => {
        const before = this.last;
        const begun = performance.now();
        const diagnosis = door.ask(findings);
        this.spent(before + performance.now() - begun);
        return diagnosis;
      },
    };
  }

  private spent(ms: number): void {
    this.last = ms;
    this.longest = Math.max(this.longest, ms);
  }
}
