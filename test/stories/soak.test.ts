import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { expect, test } from "vitest";
import { FAST, playRack } from "../../src/app/fixture/play-run.ts";
import { FRAMES_PER_SECOND } from "../../src/domain/units.ts";
import { silentLog } from "../../src/io/log/file.ts";
import { memoryJournal } from "../../src/io/store/memory.ts";
import { silentVoice } from "../../src/io/voice/speech.ts";
import { type Batch, openBatch, rackQuestionOf } from "../../src/run/batch/batch.ts";
import type { RackInput } from "../../src/run/machine/input.ts";
import type { Clock, Watcher } from "../../src/run/ports.ts";
import { type OpenedLines, sentHere } from "../../src/run/shell/frame-sender.ts";
import { systemSignals } from "../../src/run/shell/signals.ts";
import { rackJobOf, spots } from "../kit/driven-rack.ts";

/** Twelve on each of two universes, watched six at a time: four groups, each soaking for two hours. */
const HOURS = 8;
const RACK = {
  fixtures: [...spots(12, 1, 1), ...spots(12, 2, 13)],
  lines: [1, 2],
  more: "groups: { broad: 6, fine: 3 }",
  steps: ["{ sweep: Pan, speed: full, passes: 2 }", "{ soak: [Pan, Tilt], seconds: 7200 }", "{ snap: Iris, times: 2 }"],
};

test(`${HOURS} hours of bench time with 24 fixtures: every frame on the grid, every event kept, memory as at the start`, async () => {
  let ticks = 0;
  const lines = countingLines(() => ticks);
  const journal = memoryJournal();
  const { plan, members } = rackJobOf(RACK);
  const heap: number[] = [];
  const ended = await playRack(openBatch(plan, members, "KM"), "bench", {
    ...FAST,
    clock: (busy) => countedBy(FAST.clock(busy), () => ticks++),
    frames: sentHere(lines),
    journal,
    watcher: () => new WillingWatcher(() => heap.push(usedAfterCleaning())),
    voice: silentVoice,
    log: silentLog,
    questions: new Map(),
    byHand: () => {},
    signals: systemSignals,
  });
  expect(ended.stage).toEqual({ kind: "finished", how: "finished" });
  expect(ended.now).toBeGreaterThan(HOURS * 3600);

  // Drift: from the first frame of a universe on one for every 25 ms of bench time, none twice and none left out.
  // A universe is silent until something plays on it: the second for the first half, while the first is watched.
  const [first, second] = [lines.of(1), lines.of(2)];
  expect(Math.abs(ticks - ended.now * FRAMES_PER_SECOND)).toBeLessThanOrEqual(SLACK_FRAMES);
  expect(first.from).toBeLessThanOrEqual(SLACK_FRAMES);
  expect(Math.abs(second.from - ticks / 2)).toBeLessThanOrEqual(SLACK_FRAMES);
  for (const { from, sent, apart } of [first, second]) {
    expect(sent).toBe(ticks - from);
    expect([...apart]).toEqual([1]);
  }
  // Lost events: what every fixture and the rack itself know is what the journal holds.
  for (const { run, session } of ended.members) expect(await journal.events(run)).toHaveLength(session.view.count);
  expect(await journal.events(plan.run)).toHaveLength(ended.record.count);
  for (const { session } of ended.members)
    expect(session.view.steps.map(({ judged }) => [judged?.rig.dropped, judged?.rig.worst_late_s])).toEqual(
      RACK.steps.map(() => [0, 0]),
    );
  // Leak: after the last group as much as after the first, within less than a byte for a frame.
  expect(heap.length).toBeGreaterThanOrEqual(GROUPS);
  expect(heap.at(-1)! - heap[0]!).toBeLessThan((HOURS - 2) * 3600 * FRAMES_PER_SECOND);
}, 600_000);

const GROUPS = 4;
/** Frames go out before the run opens and after it closes. */
const SLACK_FRAMES = 80;

/** Says yes to everything, and when a group was watched lets the memory be looked at. */
class WillingWatcher implements Watcher {
  private answer: (input: RackInput) => void = () => {};
  private question: string | undefined;
  private readonly groupOver: () => void;

  constructor(groupOver: () => void) {
    this.groupOver = groupOver;
  }

  listen(answer: (input: RackInput) => void): void {
    this.answer = answer;
  }

  show(batch: Batch): void {
    const question = rackQuestionOf(batch);
    if (question === this.question) return;
    this.question = question;
    if (question === undefined || ["moving", "slow-start"].includes(batch.stage.kind)) return;
    if (batch.stage.kind === "confirming") this.groupOver();
    this.answer({ kind: "confirm", answers: question });
  }

  close(): void {}
}

/** Frames on one universe: at which tick of the clock the first went out, how many since, and how many ticks lay between two. */
interface Counted {
  readonly from: number;
  readonly sent: number;
  readonly latest: number;
  readonly apart: Set<number>;
}

const countingLines = (ticks: () => number): OpenedLines & { of(universe: number): Counted } => {
  const universes = new Map<number, Counted>();
  return {
    open: async () => {},
    send: (universe) => {
      const now = ticks();
      const counted = universes.get(universe);
      counted?.apart.add(now - counted.latest);
      const { from, sent, apart } = counted ?? { from: now, sent: 0, apart: new Set<number>() };
      universes.set(universe, { from, sent: sent + 1, latest: now, apart });
      return "sent";
    },
    close: async () => {},
    of: (universe) => must(universes.get(universe)),
  };
};

const must = <Known>(known: Known | undefined): Known => {
  if (known === undefined) throw new Error("nothing went out");
  return known;
};

const countedBy = (clock: Clock, count: () => void): Clock => ({
  ...clock,
  start: (onTick) =>
    clock.start((tick) => {
      onTick(tick);
      count();
    }),
});

setFlagsFromString("--expose-gc");
const cleanUp = runInNewContext("gc") as () => void;
const usedAfterCleaning = (): number => {
  cleanUp();
  return process.memoryUsage().heapUsed;
};
