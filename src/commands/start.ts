import { fastClock } from "../clock/fast-clock.ts";
import { rank } from "../faults/rank.ts";
import { silentLog } from "../log/file.ts";
import type { Shelf } from "../ports.ts";
import { hintFor } from "../problem/nearest.ts";
import { bad, problem, type Result } from "../problem/problem.ts";
import { fittedOf } from "../profile/profile.ts";
import { observationsOf } from "../record/observations.ts";
import { viewOf } from "../record/view.ts";
import { type JobSheet, jobSheetOf } from "../report/job-sheet.ts";
import { Shell } from "../run/shell.ts";
import { openSession } from "../session/session.ts";
import { HEALTHY } from "../sim/fixture.ts";
import { SimLine } from "../sim/line.ts";
import { onlooker } from "../sim/onlooker/onlooker.ts";
import { PHYSICAL_FAULTS, setFaults } from "../sim/physical/faults.ts";
import { SimulatedWatcher } from "../sim/watcher.ts";
import { memoryJournal } from "../store/memory.ts";
import { silentVoice } from "../voice/silent.ts";
import { loadMaterial, type Material, type Names } from "./data.ts";
import { jobFor } from "./job.ts";
import { simulatedBuild } from "./simulated-build.ts";

export interface SimulatedOrder {
  readonly names: Names;
  readonly address: number;
  /** Faults to set; undefined: one is drawn by the seed. */
  readonly set: readonly string[] | undefined;
  /** Of the watcher, and of where and how bad the faults are. */
  readonly seed: number;
  readonly run: string;
}

/** The whole main job on the simulated bench, unattended, in no real time: a fixture with something set, a watcher, a job sheet. */
export const simulatedRun = async (shelf: Shelf, order: SimulatedOrder): Promise<Result<JobSheet>> => {
  const material = loadMaterial(shelf, order.names);
  if (!material.ok) return material;
  const set = faultsToSet(material.value, order);
  if (!set.ok) return set;
  const job = jobFor(material.value, {
    serial: "simulated",
    universe: 1,
    address: order.address,
    output: "sim",
    simulated: true,
    set: set.value.set.map(({ id }) => id),
    mode: "attended",
    replays: undefined,
  });
  if (!job.ok) return job;
  const build = simulatedBuild(material.value.profile.value, order.address);
  const line = new SimLine([
    {
      build,
      options: {
        ...HEALTHY,
        troubles: set.value.troubles,
        seed: order.seed,
        attitude: material.value.bench.value.attitude,
      },
    },
  ]);
  const journal = memoryJournal();
  const shell: Shell = new Shell(openSession(job.value, "sim"), {
    clock: fastClock(() => shell.busy()),
    line,
    journal,
    watcher: new SimulatedWatcher(line, onlooker(build, order.seed)),
    voice: silentVoice,
    log: silentLog,
    mainsOn: () => line.mains("on"),
    signals: () => () => {},
    bench: material.value.bench.value.name,
    run: order.run,
  });
  line.mains("off");
  await shell.run();
  const view = viewOf((await journal.events(order.run)).map(({ body }) => body));
  const fitted = fittedOf(material.value.profile.value);
  return { ok: true, value: jobSheetOf(order.run, view, rank(fitted, observationsOf(view, fitted))) };
};

/** Faults by name, or one drawn by the seed of those that this fixture can have. */
const faultsToSet = (
  material: Material,
  { set, seed, address }: SimulatedOrder,
): Result<ReturnType<typeof setFaults>> => {
  const build = simulatedBuild(material.profile.value, address);
  const known = PHYSICAL_FAULTS.map(({ id }) => id);
  const possible = known.filter((id) => setFaults(build, [id], seed).set.length > 0);
  const drawn = possible[seed % Math.max(1, possible.length)];
  const made = setFaults(build, set ?? (drawn === undefined ? [] : [drawn]), seed);
  const wrong = [
    ...made.unknown.map((id) =>
      problem("--set", `"${id}" cannot be set`, hintFor(id, known) ?? `known: ${known.join(", ")}`),
    ),
    ...made.notApplicable.map((id) => problem("--set", `"${id}" needs a function that this fixture does not have`)),
  ];
  return wrong.length > 0 ? bad(...wrong) : { ok: true, value: made };
};
