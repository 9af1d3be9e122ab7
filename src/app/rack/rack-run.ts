import { type Problem, problem } from "../../domain/problem/problem.ts";
import type { Probability } from "../../domain/units.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { fileLog } from "../../io/log/file.ts";
import { tellRackPlan, tellRackSheet } from "../../reports/rack-sheet.ts";
import { type Batch, type Member, openBatch } from "../../run/batch/batch.ts";
import { expectedOf } from "../../run/batch/expected.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import { viewOf } from "../../run/events/view.ts";
import type { Journal } from "../../run/ports.ts";
import { againstPower } from "../../run/release/dangers.ts";
import { type Signals, untilTold } from "../../run/shell/signals.ts";
import { complain, type ExitCode, print, refuse } from "../common/output.ts";
import { shopHistory } from "../common/shop.ts";
import { type RackEyesOptions, rackEyes, unwatchable } from "../fixture/eyes.ts";
import { eventsOfFixture } from "../fixture/fixture-past.ts";
import { exitFor, FAST, playRack, realTime } from "../fixture/play-run.ts";
import { isAsked, type WhenAsked } from "../fixture/rig.ts";
import { tellOpenElsewhere } from "../fixture/which-fixture.ts";
import { openHere, withJournal } from "../journal/with-journal.ts";
import { asItStood, type KeptRack, keptRack } from "./kept-rack.ts";
import { loadRackMaterial, type RackNames } from "./rack-data.ts";
import { prepareRack, type RackJob, type ReadyRack } from "./rack-job.ts";
import { openRackLines, simulatedQuestions } from "./rack-lines.ts";
import { rackSheetFrom } from "./rack-sheet.ts";
import { warmUpRack, warmUpRackMeanwhile } from "./rack-sim.ts";

/** How a rack run is carried out, begun or gone on with. */
export interface RackRunOptions extends RackEyesOptions {
  readonly output: string;
  /** Faults to be set in simulated fixtures, by serial. */
  readonly set: ReadonlyMap<string, readonly string[]>;
  readonly journal: string;
  readonly person: string;
  /** The name of the new run. */
  readonly run: string;
  readonly json: boolean;
  readonly rdm: WhenAsked;
}

/** Plays a sequence on a whole rack: groups first, then the odd ones alone; kept in the journal. */
export const runRack = async (names: RackNames, options: RackRunOptions): Promise<ExitCode> => {
  const material = loadRackMaterial(fileLibrary(), names);
  if (!material.ok) return refuse(material.problems);
  const byHand = material.value.sequence.value.byHand.length;
  if (byHand > 0) return refuse([handWorkProblem(names.sequence, byHand)]);
  const journal = await openHere(options.journal);
  try {
    const { learned } = await shopHistory(journal);
    const wanted = { ...options, learned, seed: options.watcher ?? 1 };
    const ready = prepareRack(fileLibrary(), material.value, wanted);
    if (!ready.ok) return refuse(ready.problems);
    const wrong = unwatchable(options, ready.value);
    if (wrong.length > 0) return refuse(wrong);
    const { plan, members } = ready.value.job;
    if (!options.json) tellPlan(ready.value.job, await faultRateIn(journal));
    return await carryOutRack(options, ready.value, openBatch(plan, members, options.person), journal);
  } finally {
    await journal.close();
  }
};

/** Work by hand is done at one fixture after the other, behind its own hold points. */
const handWorkProblem = (sequence: string, count: number): Problem =>
  problem(
    sequence,
    `${count} steps of this sequence are work by hand, which a rack run cannot do`,
    `"limber run ${sequence}" for each fixture; a rack run takes quick or full`,
  );

/** Fixtures of the rack that must not get power: nobody switches them on with the others. */
const lockedOut = async (journal: Journal, { members }: Batch): Promise<readonly Problem[]> => {
  const problems: Problem[] = [];
  for (const { serial, session } of members) {
    const past = await eventsOfFixture(journal, session.job.opening);
    problems.push(
      ...againstPower(past).map(({ words }) =>
        problem(serial, `no power before it is repaired: ${words}`, "take it off the rack and out of the rack file"),
      ),
    );
  }
  return problems;
};

const tellPlan = ({ plan, members }: RackJob, { rate, words }: FaultRate): void => {
  const serials = members.map(({ serial }) => serial);
  const expected = expectedOf(plan, members, rate);
  print(
    `${tellRackPlan({ title: plan.title, serials, turns: plan.turns, expected, rateInWords: words }).join("\n")}\n`,
  );
};

/** Plays a rack run to its end and prints what came of every fixture. */
export const carryOutRack = async (
  options: RackRunOptions,
  ready: ReadyRack,
  batch: Batch,
  journal: Journal,
  tell: (ended: Batch) => Promise<ExitCode> = (ended) => tellSheet(options, ended, journal),
): Promise<ExitCode> => {
  const dangers = await lockedOut(journal, batch);
  if (dangers.length > 0) return refuse(dangers);
  for (const { serial, session } of batch.members) {
    const { simulated } = session.job.opening;
    const runs = (await journal.briefs({ kind: "fixture", serial })).filter((run) => run.simulated === simulated);
    await tellOpenElsewhere(journal, runs, ready.bench.name);
  }
  return await untilTold((signals) => playedAndTold(options, ready, { batch, journal, signals, tell }));
};

interface RackUndertaking {
  readonly batch: Batch;
  readonly journal: Journal;
  readonly signals: Signals;
  readonly tell: (ended: Batch) => Promise<ExitCode>;
}

const playedAndTold = async (
  options: RackRunOptions,
  ready: ReadyRack,
  { batch, journal, signals, tell }: RackUndertaking,
): Promise<ExitCode> => {
  const { sim, outputs, bench } = ready;
  const eyes = await rackEyes(options, ready);
  if (!eyes.ok) return refuse(eyes.problems);
  if (options.fast) warmUpRack(sim, batch.members);
  else warmUpRackMeanwhile(sim, batch.members);
  const log = fileLog();
  const sequence = batch.members[0]?.session.job.sequence;
  const asks = sequence !== undefined && isAsked(options.rdm, sequence);
  const pace = options.fast ? FAST : realTime(batch.members.every(isSimulated) ? "all simulated" : "real", log);
  // After the thread of the diagnosis has begun, which goes behind the frames.
  const { frames, questions } = await openRackLines(outputs, sim.lines, log);
  const ended = await playRack(batch, bench.name, {
    ...pace,
    frames,
    questions: asks ? new Map([...questions, ...simulatedQuestions(batch.members, sim.fixtures)]) : new Map(),
    journal,
    watcher: eyes.value.watcher,
    voice: eyes.value.voice,
    log,
    byHand: sim.byHand,
    signals,
  });
  eyes.value.close();
  if (ended.trouble !== undefined) complain(ended.trouble);
  return await tell(ended);
};

const isSimulated = ({ session }: Member): boolean => session.job.opening.simulated;

const tellSheet = async ({ json }: RackRunOptions, ended: Batch, journal: Journal): Promise<ExitCode> => {
  const sheet = await rackSheetFrom(journal, ended, ended.now);
  print(json ? JSON.stringify(sheet, undefined, 2) : tellRackSheet(sheet));
  return exitFor(ended);
};

/** How many fixtures show something when they come in, as far as the journal knows. */
interface FaultRate {
  readonly rate: Probability;
  readonly words: string;
}

/** Starter value, judgement: as if `seen` fixtures had been seen already, and `odd` of them had shown something. */
const STARTER = { seen: 10, odd: 1.5 };

/**
 * How often fixtures have a fault, by real runs that came to their end; a simulation says nothing about a shop's fixtures.
 */
const faultRateIn = async (journal: Journal): Promise<FaultRate> => {
  const runs = (await journal.briefs({ kind: "all" })).filter(
    ({ simulated, ended }) => !simulated && ended === "finished",
  );
  const odd = runs.filter(showsSomething).length;
  const rate = (odd + STARTER.odd) / (runs.length + STARTER.seen);
  const share = `${Math.round(rate * 100)} %`;
  return {
    rate,
    words:
      runs.length === 0
        ? `${share}, a starter value, judgement; the journal has no real run yet`
        : `${share}; ${odd} of ${runs.length} real runs in the journal did`,
  };
};

const showsSomething = ({ steps }: RunSummary): boolean =>
  steps.some(({ result, symptoms }) => result === "fail" || symptoms.length > 0);

/**
 * Plays an unfinished rack run on from where it stopped: the first group that was not
 * watched to its end, or the next odd one.
 */
export const resumeRack = (name: string, options: RackRunOptions): Promise<ExitCode> =>
  withJournal(options.journal, async (journal) => {
    const kept = await keptRack(journal, name);
    if (!kept.ok) return refuse(kept.problems);
    if (kept.value.view.closed === "finished")
      return refuse([problem(kept.value.run, "this rack run is finished", '"limber rack run" begins another')]);
    const { run, view, material, opened } = kept.value;
    if (view.answers.length > 0)
      return refuse([problem(run, "this run asked which fixture is where", '"limber rack identify" starts it again')]);
    const { learned } = await shopHistory(journal);
    const output = options.output === "" && opened.simulated ? "sim" : options.output;
    const set = options.set.size > 0 ? options.set : setBefore(kept.value);
    const wanted = { ...options, run, learned, output, set, seed: options.watcher ?? 1 };
    const ready = prepareRack(fileLibrary(), material, wanted, (job) => asItStood(job, kept.value));
    if (!ready.ok) return refuse(ready.problems);
    const { plan, members } = ready.value.job;
    return await carryOutRack(options, ready.value, openBatch(plan, members, options.person, view), journal);
  });

const setBefore = ({ view, members }: KeptRack): ReadonlyMap<string, readonly string[]> =>
  new Map(
    view.members.flatMap(({ serial }, index) => {
      const set = viewOf(members[index] ?? []).opened?.set ?? [];
      return set.length > 0 ? [[serial, set] as const] : [];
    }),
  );
