import { knownOf } from "../../diagnosis/places/known.ts";
import { good, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { fileLog } from "../../io/log/file.ts";
import { silentVoice } from "../../io/voice/speech.ts";
import { type PracticeRound, practiceData, tellPractice, tellRound } from "../../reports/practice.ts";
import { EVENT_VERSION } from "../../run/events/event.ts";
import { PRACTICE_SERIAL } from "../../run/events/summary.ts";
import { viewOf } from "../../run/events/view.ts";
import { practisedIn } from "../../run/events/watcher.ts";
import type { Journal } from "../../run/ports.ts";
import { openSession, type Session } from "../../run/session/session.ts";
import { onlyLine, sentHere } from "../../run/shell/frame-sender.ts";
import { type Signals, systemSignals, untilTold } from "../../run/shell/signals.ts";
import { AllSeeing, observer } from "../../sim/observer/observer.ts";
import { faultWords } from "../../sim/physical/faults.ts";
import { SimulatedWatcher } from "../../sim/watcher.ts";
import { typedLines } from "../../ui/typed-lines.ts";
import type { Names } from "../common/data.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { type Eyes, personHere } from "../fixture/eyes.ts";
import { constantsIn } from "../fixture/fixture-past.ts";
import { FAST, findingsFrom, knowledgeIn, playRun, realTime } from "../fixture/play-run.ts";
import { openHere } from "../journal/with-journal.ts";
import type { Phone } from "../phone/beside.ts";
import { hiddenFault, type PracticeLevel } from "./practice-levels.ts";
import { PracticeWatch } from "./practice-watch.ts";
import { framesBefore, type SimBench, sightOf, warmUp, warmUpMeanwhile } from "./sim-bench.ts";
import { simulatedJob } from "./start.ts";

/**
 * Plays rounds at the simulated bench with something hidden, or nothing; after each it says what was
 * hidden, caught, missed and falsely called.
 */
export const practice = async (options: PracticeOptions): Promise<ExitCode> => {
  const journal = await openHere(options.journal);
  try {
    const rounds: PracticeRound[] = [];
    for (;;) {
      const round = await untilTold((signals) => playedAndTold(options, journal, rounds, signals));
      if (!round.ok) return refuse(round.problems);
      if (isLast(options, round.value)) return EXIT.done;
      if (await wantsAnother(options)) continue;
      await tellAll(options, journal, rounds);
      return EXIT.done;
    }
  } finally {
    await journal.close();
  }
};

/** One more round, added to `rounds`; after the last one also what all of them say. */
const playedAndTold = async (
  options: PracticeOptions,
  journal: Journal,
  rounds: PracticeRound[],
  signals: Signals,
): Promise<Result<PracticeRound>> => {
  const round = await practiceRound(options, journal, rounds.length + 1, signals);
  if (!round.ok) return round;
  rounds.push(round.value);
  if (!options.json) print(tellRound(round.value, options.rounds));
  if (isLast(options, round.value)) await tellAll(options, journal, rounds);
  return round;
};

const isLast = ({ rounds }: PracticeOptions, { ended, number }: PracticeRound): boolean =>
  ended !== "finished" || number >= rounds;

const tellAll = async ({ json }: PracticeOptions, journal: Journal, rounds: readonly PracticeRound[]) => {
  const quickness = await quicknessIn(journal, rounds);
  print(json ? JSON.stringify({ ...practiceData(rounds), quickness }, undefined, 2) : tellPractice(rounds, quickness));
};

const wantsAnother = async ({ watcher }: PracticeOptions): Promise<boolean> => {
  if (watcher !== undefined) return true;
  print("ENTER: next round. Any other key, then ENTER: stop.");
  const lines = typedLines();
  const line = await lines.next();
  lines.close();
  return line?.trim() === "";
};

/** How quickly whoever pressed last presses, by all earlier rounds and runs. */
const quicknessIn = async (journal: Journal, rounds: readonly PracticeRound[]): Promise<string | undefined> => {
  const person = rounds.at(-1)?.person ?? "";
  const words = knownOf(await constantsIn(journal), person, "").words;
  return words === undefined ? undefined : safeText(words);
};

interface PracticeOptions {
  readonly names: Names;
  readonly level: PracticeLevel;
  readonly rounds: number;
  /** What is set in every round; undefined: drawn by the level. */
  readonly set: readonly string[] | undefined;
  readonly seed: number;
  /** The simulated watcher instead of a person, faster than real time. */
  readonly watcher: number | undefined;
  readonly person: string;
  readonly journal: string;
  /** The beginning of the rounds' names. */
  readonly run: string;
  readonly json: boolean;
  readonly plain: boolean;
  readonly distance: boolean;
  readonly phone: Phone | undefined;
}

/**
 * One round: played, kept as a run of a simulated fixture called "practice", and compared with what there was to be
 * noticed. Refused where the order cannot be played. `number` counts the rounds from 1.
 */
export const practiceRound = async (
  options: PracticeOptions,
  journal: Journal,
  number: number,
  signals: Signals = systemSignals,
): Promise<Result<PracticeRound>> => {
  const seed = options.seed + number;
  const set = options.set ?? hiddenFault(options.level, seed);
  const made = simulatedJob(
    fileLibrary(),
    { names: options.names, address: 1, set, seed, drawFrom: "all", copy: "drawn", serial: PRACTICE_SERIAL },
    "attended",
  );
  if (!made.ok) return made;
  const { material, bench, job } = made.value;
  const eyes = await eyesFor(options, bench, material.bench.value, seed);
  if (!eyes.ok) return eyes;
  const session = openSession(job, options.person);
  if (options.watcher === undefined) warmUpMeanwhile(bench.line, framesBefore(session));
  else warmUp(bench.line, framesBefore(session));
  const run = `${options.run}-${number}`;
  let beside: PracticeWatch | undefined;
  // A clock of the bench counts from the program's start, not from the round's.
  let began = 0;
  const log = fileLog();
  const pace = options.watcher === undefined ? realTime("all simulated", log) : FAST;
  const ended = await playRun(session, run, {
    clock: (busy) => {
      const clock = pace.clock(busy);
      began = clock.now();
      return clock;
    },
    frames: sentHere(onlyLine(bench.line)),
    questions: new Map(),
    journal,
    watcher: (frame) => {
      beside = new PracticeWatch(eyes.value.watcher(frame), bench.line, new AllSeeing(bench.build));
      return beside;
    },
    voice: eyes.value.voice,
    log,
    diagnosis: pace.diagnosis,
    byHand: bench.hands.did,
    signals,
  });
  eyes.value.close();
  await keepShown(journal, run, ended, beside);
  const { level } = options;
  return good(await roundOf(journal, { run, number, level, began }, ended));
};

const eyesFor = async (
  { watcher, plain, distance, phone }: PracticeOptions,
  { line, build }: SimBench,
  bench: Parameters<typeof personHere>[0]["bench"],
  seed: number,
): Promise<Result<Eyes>> =>
  watcher === undefined
    ? personHere({ bench, line: "simulated", plain, distance, spectacle: sightOf(line), phone })
    : good({
        watcher: () => new SimulatedWatcher(line, observer(build, watcher + seed)),
        voice: silentVoice,
        close: () => {},
      });

/** What showed is kept with the run, so that it can be judged again, and the presses in it measured. */
const keepShown = async (
  journal: Journal,
  run: string,
  { job, person }: Session,
  beside: PracticeWatch | undefined,
) => {
  for (const [at, body] of (beside?.shown ?? []).entries())
    await journal.append({
      id: `${run}-shown-${String(at + 1).padStart(3, "0")}`,
      v: EVENT_VERSION,
      bench: job.bench.name,
      person,
      at: new Date().toISOString(),
      run,
      body,
    });
};

const roundOf = async (
  journal: Journal,
  {
    run,
    number,
    level,
    began,
  }: Pick<PracticeRound, "run" | "number"> & { readonly level: PracticeLevel; readonly began: number },
  { job, person, now, stage }: Session,
): Promise<PracticeRound> => {
  const view = viewOf((await journal.events(run)).map(({ body }) => body));
  const { faults, setFound } = await findingsFrom(journal, run, job.timeline.profile, await knowledgeIn(journal));
  return {
    number,
    level,
    run,
    person,
    set: job.opening.set.map((id) => ({ id, words: faultWords(id) })),
    steps: practisedIn(view),
    seconds: now - began,
    guess: faults[0]?.title ?? "",
    guessed:
      setFound.length === 0 ? "nothing was hidden" : setFound.some(({ place }) => place === 1) ? "right" : "wrong",
    ended: stage.kind === "finished" && stage.how === "finished" ? "finished" : "left",
  };
};
