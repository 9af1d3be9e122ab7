import { loadMaterial } from "../../../src/app/common/data.ts";
import { FAST, playRun } from "../../../src/app/fixture/play-run.ts";
import { framesBefore, warmUp } from "../../../src/app/simulated/sim-bench.ts";
import { simulatedJob } from "../../../src/app/simulated/start.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
import { silentLog } from "../../../src/io/log/file.ts";
import { memoryJournal } from "../../../src/io/store/memory.ts";
import { silentVoice } from "../../../src/io/voice/speech.ts";
import { type Batch, onlySession, rackQuestionOf } from "../../../src/run/batch/batch.ts";
import type { EventBody } from "../../../src/run/events/event.ts";
import { placedIn } from "../../../src/run/events/placed.ts";
import { viewOf } from "../../../src/run/events/view.ts";
import type { RackInput } from "../../../src/run/machine/input.ts";
import type { Watcher } from "../../../src/run/ports.ts";
import { openSession } from "../../../src/run/session/session.ts";
import { onlyLine, sentHere } from "../../../src/run/shell/frame-sender.ts";
import { observer } from "../../../src/sim/observer/observer.ts";
import { PHYSICAL_FAULTS } from "../../../src/sim/physical/faults.ts";
import { SimulatedWatcher } from "../../../src/sim/watcher.ts";
import { type Row, row } from "../line/row.ts";

/** Sweeps of one function each, 3 to 5 passes each way: what can be placed. */
const SWEEPS = [
  "{ sweep: Pan, deg_per_s: 60, passes: 10 }",
  "{ sweep: Tilt, deg_per_s: 60, passes: 10 }",
  ...["Iris", "Zoom", "Focus1", "ColorSub_C", "ColorSub_M", "ColorSub_Y", "CTO"].map(
    (id) => `{ sweep: ${id}, seconds: 3, passes: 6 }`,
  ),
];
const SEQUENCE = `sequence: placing\ntitle: Placing\nsteps:\n${SWEEPS.map((one) => `  - ${one}\n`).join("")}`;

/** What is said of the presses for every fault that can be set, before and after one follow-up test a function. */
export const setFaultRows = async (seeds: number): Promise<readonly Row[]> => {
  const said = new Map<string, { before: number; after: number }>();
  const count = (fault: string, pattern: string, of: "before" | "after") => {
    const key = `${fault}: ${pattern}`;
    const counts = said.get(key) ?? { before: 0, after: 0 };
    said.set(key, { ...counts, [of]: counts[of] + 1 });
  };
  const totals = { before: 0, after: 0, of: 0 };
  for (const { id } of PHYSICAL_FAULTS)
    for (let seed = 1; seed <= seeds; seed++) {
      const { before, after } = await patternsIn(id, seed);
      for (const pattern of before) count(id, pattern, "before");
      for (const pattern of after) count(id, pattern, "after");
      totals.of += after.length;
      totals.before += before.filter((one) => one !== OPEN).length;
      totals.after += after.filter((one) => one !== OPEN).length;
    }
  const share = (settled: number) => (100 * settled) / Math.max(1, totals.of);
  const rows = [...said].map(([what, { before, after }]) => row(`simulated, set ${what}`, "functions", after, before));
  return [
    row(
      "simulated: settled, after one follow-up test (other: without)",
      "% of pressed functions",
      share(totals.after),
      share(totals.before),
    ),
    ...rows,
  ];
};

const OPEN = "can't say yet";

interface Patterns {
  readonly before: readonly string[];
  readonly after: readonly string[];
}

/** Of every function that was pressed and not found good: what its presses are settled as, without and with the added steps. */
const patternsIn = async (fault: string, seed: number): Promise<Patterns> => {
  const shelf = fileLibrary(".");
  const names = { profile: "spot-16bit", sequence: "quick", bench: "bench" };
  const placing = {
    ...shelf,
    read: (kind: Parameters<typeof shelf.read>[0], name: string) =>
      kind === "sequences" ? { file: "placing.yaml", text: SEQUENCE } : shelf.read(kind, name),
  };
  if (!loadMaterial(placing, names).ok) throw new Error("the sweeps are misspelt");
  const made = simulatedJob(
    placing,
    { names, address: 1, set: [fault], seed, drawFrom: "all", copy: "drawn" },
    "attended",
  );
  // Needs a function that this fixture lacks.
  if (!made.ok) return { before: [], after: [] };
  const { bench, job, material } = made.value;
  const session = openSession(job, "sim");
  warmUp(bench.line, framesBefore(session));
  const journal = memoryJournal();
  await playRun(session, "run", {
    ...FAST,
    frames: sentHere(onlyLine(bench.line)),
    questions: new Map(),
    journal,
    watcher: () => new FollowsUp(new SimulatedWatcher(bench.line, observer(bench.build, seed))),
    voice: silentVoice,
    log: silentLog,
    byHand: bench.hands.did,
    signals: () => () => {},
  });
  const bodies = (await journal.events("run")).map(({ body }) => body);
  const said = (which: readonly EventBody[]) =>
    placedIn(viewOf(which), material.profile.value).map(({ assessment }) => assessment.settled?.pattern.kind ?? OPEN);
  return { before: said(bodies.filter((body) => !isAdded(body))), after: said(bodies) };
};

const isAdded = (body: EventBody): boolean =>
  body.kind === "step-added" || ("step" in body && typeof body.step === "string" && body.step.startsWith("added-"));

/** The simulated person, who plays the first test that is proposed where it cannot be said yet, once for each function. */
class FollowsUp implements Watcher {
  private readonly person: Watcher;
  private readonly followed = new Set<string>();
  private answer: (input: RackInput) => void = () => {};

  constructor(person: Watcher) {
    this.person = person;
  }

  listen(answer: (input: RackInput) => void): void {
    this.answer = answer;
    this.person.listen(answer);
  }

  show(batch: Batch): void {
    const { stage } = onlySession(batch);
    const asks = stage.kind === "placed" && !stage.assessment.settled && stage.tests.length > 0;
    if (asks && !this.followed.has(stage.function)) {
      this.followed.add(stage.function);
      this.answer({ kind: "choose", answers: rackQuestionOf(batch) ?? "", offer: 0 });
    } else this.person.show(batch);
  }

  close(): void {
    this.person.close();
  }
}
