import type { Journal } from "../ports.ts";
import { bad, good, problem, type Result } from "../problem/problem.ts";
import type { Planned } from "../record/view.ts";
import type { History } from "../release/history.ts";
import { eventsIn } from "../release/moment.ts";
import type { Job } from "../session/job.ts";
import { openSession } from "../session/session.ts";
import { fileShelf } from "../shelf/files.ts";
import { openJournal } from "../store/journal.ts";
import { carryOut, type RunOptions } from "./carry-out.ts";
import { loadMaterial, type Material, type Names, otherProfiles } from "./data.ts";
import type { ExitCode } from "./exit.ts";
import { eventsOfFixture } from "./fixture-past.ts";
import { jobFor, jobFromStored, knowing, type Order } from "./job.ts";
import { type KeptRun, keptRun } from "./kept-run.ts";
import { constantsIn } from "./measured.ts";
import { complain, refuse } from "./print.ts";
import { type ReplayChoice, replayedSequence, stepsToReplay } from "./replay.ts";
import { type Rig, rigFor } from "./rig.ts";
import { shopHistory } from "./shop-history.ts";
import { withoutMended } from "./sim-hands.ts";

export interface SweepOptions extends RunOptions {
  readonly names: Names;
  readonly serial: string;
  readonly universe: number;
  readonly address: number;
  readonly mode: "attended" | "hands-off";
}

/** A sequence on a fixture, real or simulated, kept in the journal. */
export const sweep = async (options: SweepOptions): Promise<ExitCode> => {
  const material = loadMaterial(fileShelf(), options.names);
  if (!material.ok) return refuse(material.problems);
  const rig = rigFor(options, material.value, options.address, options.universe);
  if (!rig.ok) return refuse(rig.problems);
  const { serial, universe, address, mode } = options;
  const job = jobFor(material.value, {
    serial,
    universe,
    address,
    mode,
    ...onRig(rig.value),
    replays: undefined,
  });
  if (!job.ok) return refuse(job.problems);
  const journal = await openJournal(options.journal);
  return carryOut(options, {
    session: openSession(await informed(job.value, journal), options.person),
    run: options.run,
    rig: rig.value,
    journal,
  });
};

/** With the other profiles on the shelf, and the shop's own numbers. */
const informed = async (job: Job, journal: Journal, run?: string): Promise<Job> => ({
  ...knowing(
    job,
    otherProfiles(fileShelf(), job.timeline.profile),
    (await shopHistory(journal)).learned,
    await constantsIn(journal),
  ),
  past: (await eventsOfFixture(journal, job.opening)).filter((event) => event.run !== run),
});

/** As compiled when the run began, and those added in its course. */
const stepsOf = ({ opened, view }: KeptRun) => [...opened.steps, ...view.added];

const onRig = ({ output, simulated, set }: Rig) => ({ output, simulated, set });

/** An unfinished run, on from its open step, with the steps as they were compiled when it began. */
export const resume = async (name: string, options: RunOptions): Promise<ExitCode> => {
  const journal = await openJournal(options.journal);
  const kept = await keptRun(journal, name);
  const prepared = kept.ok ? unfinished(kept.value, options) : kept;
  if (!prepared.ok) {
    await journal.close();
    return refuse(prepared.problems);
  }
  const unfinishedRun = prepared.value.kept;
  const { run, bodies, opened } = unfinishedRun;
  const material =
    opened.replays === undefined ? unfinishedRun.material : replaying(unfinishedRun.material, opened.steps);
  const job = jobFromStored(material, stepsOf(unfinishedRun), orderOf(prepared.value, opened.replays));
  return carryOut(options, {
    session: openSession(await informed(job, journal, run), options.person, bodies),
    run,
    rig: prepared.value.rig,
    journal,
  });
};

interface Prepared {
  readonly kept: KeptRun;
  readonly rig: Rig;
}

const unfinished = (kept: KeptRun, options: RunOptions): Result<Prepared> =>
  kept.view.closed === "finished"
    ? bad(problem(kept.run, "this run is finished", '"limber replay" plays it again'))
    : prepare(kept, options);

const prepare = (kept: KeptRun, options: RunOptions): Result<Prepared> => {
  const { address, universe } = kept.opened.fixture;
  const set = options.set ?? kept.opened.set;
  const output = options.output === "" && options.to === undefined ? kept.opened.output : options.output;
  const rig = rigFor({ ...options, set, output }, kept.material, address, universe);
  return rig.ok ? good({ kept, rig: rig.value }) : rig;
};

const orderOf = ({ kept, rig }: Prepared, replays: string | undefined): Order => {
  const { fixture, mode } = kept.opened;
  return { ...fixture, mode, ...onRig(rig), replays };
};

export interface ReplayOptions extends RunOptions {
  readonly only: ReplayChoice;
}

const replaying = (material: Material, steps: readonly Planned[]): Material => ({
  ...material,
  sequence: { ...material.sequence, value: replayedSequence(material.sequence.value, steps) },
});

/** What has been mended in a simulated fixture is not set in it again. */
const stillSet = (set: readonly string[], history: History): readonly string[] =>
  eventsIn(history, "repaired").reduce<readonly string[]>(
    (left, { body }) => (body.what === "fault" ? withoutMended(left, body.fault) : left),
    set,
  );

/** A kept run once more, or some of its steps: the very same frames, as a run of its own. */
export const replay = async (name: string, options: ReplayOptions): Promise<ExitCode> => {
  const { only } = options;
  const journal = await openJournal(options.journal);
  const kept = await keptRun(journal, name);
  const history = kept.ok ? await eventsOfFixture(journal, kept.value.opened) : [];
  const steps = kept.ok ? stepsToReplay(kept.value, history, only) : kept;
  const set = kept.ok ? stillSet(options.set ?? kept.value.opened.set, history) : [];
  const prepared = kept.ok ? prepare(kept.value, { ...options, set: options.set ?? set }) : kept;
  if (!prepared.ok || !steps.ok) {
    await journal.close();
    return refuse([...(prepared.ok ? [] : prepared.problems), ...(kept.ok && !steps.ok ? steps.problems : [])]);
  }
  const { material, run } = prepared.value.kept;
  for (const words of differences(prepared.value.kept)) complain(words);
  const job = jobFromStored(replaying(material, steps.value), steps.value, orderOf(prepared.value, run));
  const changed = job.opening.steps.filter(({ fingerprint }, index) => fingerprint !== steps.value[index]?.fingerprint);
  if (changed.length > 0)
    throw new Error(`Bug: ${changed.length} stored steps no longer give the frames they were kept with`);
  return carryOut(options, {
    session: openSession(await informed(job, journal), options.person),
    run: options.run,
    rig: prepared.value.rig,
    journal,
  });
};

/** Where today's files say something else than the run was made from: what is played is the run's own. */
const differences = ({ opened }: KeptRun): readonly string[] => {
  const shelf = fileShelf();
  const kinds = [
    ["profiles", opened.profile],
    ["sequences", opened.sequence],
  ] as const;
  return kinds.flatMap(([kind, { name, text }]) => {
    const today = shelf.read(kind, name);
    const one = kind === "profiles" ? "profile" : "sequence";
    if (!today) return [`The ${one} "${name}" is not here today; the replay uses the one kept with the run.`];
    return today.text === text
      ? []
      : [`The ${one} "${name}" has changed since; the replay uses the one kept with the run.`];
  });
};
