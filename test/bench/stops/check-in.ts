import { performance } from "node:perf_hooks";
import { workOutOnce } from "../../../src/app/fixture/play-run.ts";
import { framesBefore, warmUp } from "../../../src/app/simulated/sim-bench.ts";
import { simulatedJob } from "../../../src/app/simulated/start.ts";
import { fastClock } from "../../../src/io/clock/clocks.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/speech.ts";
import { onlySession, rackOfOne } from "../../../src/run/batch/batch.ts";
import type { Clock, DiagnosisDoor, Watcher } from "../../../src/run/ports.ts";
import { openSession } from "../../../src/run/session/session.ts";
import { diagnosedHere, diagnosisThread } from "../../../src/run/shell/diagnosis-thread.ts";
import { onlyLine, sentHere } from "../../../src/run/shell/frame-sender.ts";
import { Shell } from "../../../src/run/shell/shell.ts";
import { observer } from "../../../src/sim/observer/observer.ts";
import { SimulatedWatcher } from "../../../src/sim/watcher.ts";

/** How long each input kept the frames waiting, in milliseconds, and what it led from and to. */
export interface Stop {
  readonly ms: number;
  /** Processor time meanwhile, of this process with all its threads: other programs do not count. */
  readonly busy: number;
  readonly what: string;
}

/** One whole check-in in a process of its own, with everything as cold as it is for the first fixture of the day. */
const stopsIn = async (fault: string, door: DiagnosisDoor): Promise<readonly Stop[]> => {
  const names = { profile: "spot-16bit", sequence: "check-in", bench: "bench" };
  const order = { names, address: 1, set: [fault], seed: 7, drawFrom: "all", copy: "drawn" } as const;
  const made = simulatedJob(fileLibrary(), order, "attended");
  if (!made.ok) throw new Error(`${fault} cannot be set`);
  const { job, bench } = made.value;
  const session = openSession(job, "KM");
  warmUp(bench.line, framesBefore(session));
  workOutOnce(session);
  const stops = new Stops();
  const eyes = new SimulatedWatcher(bench.line, observer(bench.build, 7), 0, bench.hands);
  const shell: Shell = new Shell(rackOfOne(session, "r"), {
    clock: stops.from(fastClock(() => shell.busy())),
    frames: sentHere(onlyLine(bench.line)),
    journal: memoryJournal(),
    watcher: stops.until(eyes),
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
  return stops.all;
};

/**
 * Time spent between an input and the next frame: the step itself, and what it asks of the door at once. The shell reads its
 * clock when an input comes, and shows whoever watches what became of it.
 */
class Stops {
  readonly all: Stop[] = [];
  private came = now();
  private before = "";

  from(clock: Clock): Clock {
    return {
      ...clock,
      now: () => {
        this.came = now();
        return clock.now();
      },
    };
  }

  until(watcher: Watcher): Watcher {
    return {
      show: (batch) => {
        const { stage } = onlySession(batch);
        this.all.push({ ...since(this.came), what: `${this.before} to ${stage.kind}` });
        this.before = stage.kind;
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
        const last = this.all.pop();
        const begun = now();
        const diagnosis = door.ask(findings);
        const more = since(begun);
        if (last) this.all.push({ ...last, ms: last.ms + more.ms, busy: last.busy + more.busy });
        return diagnosis;
      },
    };
  }
}

interface Instant {
  readonly at: number;
  readonly used: NodeJS.CpuUsage;
}

const now = (): Instant => ({ at: performance.now(), used: process.cpuUsage() });

const since = ({ at, used }: Instant) => {
  const { user, system } = process.cpuUsage(used);
  return { ms: performance.now() - at, busy: (user + system) / 1000 };
};

const [fault = "", where = ""] = process.argv.slice(2);
process.stdout.write(JSON.stringify(await stopsIn(fault, where === "beside" ? diagnosisThread() : diagnosedHere)));
