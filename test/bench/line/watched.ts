import { performance } from "node:perf_hooks";
import { frameClock } from "../../../src/io/clock/clocks.ts";
import { goFirst } from "../../../src/io/clock/crowded.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/speech.ts";
import { rackOfOne } from "../../../src/run/batch/batch.ts";
import type { Watcher } from "../../../src/run/ports.ts";
import { openSession } from "../../../src/run/session/session.ts";
import { diagnosisThread } from "../../../src/run/shell/diagnosis-thread.ts";
import { framesProcess } from "../../../src/run/shell/frame-process.ts";
import { type OpensSender, sentHere } from "../../../src/run/shell/frame-sender.ts";
import { Shell } from "../../../src/run/shell/shell.ts";
import { universesOn } from "../../../src/run/shell/universes.ts";
import { screen } from "../../../src/ui/screen.ts";
import { jobOf } from "../../kit/driven.ts";
import { ObligingWatcher } from "../../kit/obliging-watcher.ts";
import { ofOne } from "../../kit/of-one.ts";
import { counter, silence } from "../screen/stage.ts";
import { answering } from "./talk.ts";

/** A run that is watched, and what sends its frames: the run itself, or a process, in the run's session or in its own. */
export interface WatchedTask {
  readonly path: string;
  readonly sends: "the run" | "a process" | "a process of its own session";
  readonly priority: "as it was given" | "raised";
  readonly seconds: number;
}

/** What the run itself says of one sweep, in its first attempt. */
export interface WatchedRun {
  readonly leftOut: number;
  readonly worstLateMs: number;
}

/** The program's own shell, screen and lines, with a sweep that somebody watches: the screen draws, and nobody presses anything. */
const opened = ({ path, sends, priority, seconds }: WatchedTask) => {
  if (priority === "raised") goFirst();
  const job = jobOf([`{ sweep: Pan, seconds: ${seconds}, passes: 1 }`], { simulated: false });
  const journal = memoryJournal();
  const willing = new ObligingWatcher();
  const shell: Shell = new Shell(rackOfOne(openSession(job, "KM"), "r"), {
    clock: frameClock(),
    frames: senderOn(path, sends),
    journal,
    watcher: both(
      drawing(() => shell.frame()),
      ofOne(willing, "r"),
    ),
    voice: silentVoice,
    log: silentLog,
    diagnosis: diagnosisThread(new URL("../../../src/run/shell/diagnosis-worker.js", import.meta.url)),
    questions: new Map(),
    byHand: () => {},
    signals: () => () => {},
    mishaps: () => () => {},
    bench: "bench",
  });
  const judged = async (): Promise<WatchedRun> => {
    for (;;) {
      const one = (await journal.events("r")).find(({ body }) => body.kind === "step-judged")?.body;
      if (one?.kind === "step-judged") return { leftOut: one.rig.dropped, worstLateMs: one.rig.worst_late_s * 1000 };
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  };
  return { shell, judged };
};

const senderOn = (path: string, sends: WatchedTask["sends"]): OpensSender => {
  if (sends === "the run") return sentHere(universesOn(new Map([[1, framedLine(path)]])));
  const code = new URL("../../../src/app/fixture/frames-main.js", import.meta.url);
  const lines = [{ universe: 1, output: { kind: "serial", path }, slots: 30 }];
  return framesProcess({ code, lines, session: sends === "a process" ? "the run's" : "of its own" }, () => {}).frames;
};

const drawing = (frame: () => number): Watcher =>
  screen({
    footSwitch: undefined,
    buttons: { press: ["space"], again: ["a"], stop: ["s"] },
    frame,
    spectacle: undefined,
    colour: true,
    distance: false,
    stdin: silence(),
    stdout: counter().stdout,
    now: () => performance.now(),
  });

const both = (one: Watcher, other: Watcher): Watcher => ({
  show: (session) => {
    one.show(session);
    other.show(session);
  },
  listen: (answer) => {
    one.listen(() => {});
    other.listen(answer);
  },
  close: () => {
    one.close();
    other.close();
  },
});

let run: ReturnType<typeof opened> | undefined;

answering((question: WatchedTask | "go") => {
  if (question !== "go") {
    run = opened(question);
    return "open";
  }
  if (!run) throw new Error("Bug: nothing is open");
  const { shell, judged } = run;
  void shell.run();
  return judged();
});
