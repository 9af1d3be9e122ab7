import { type Bench, parseBench } from "../../data/bench/bench.ts";
import { parseProfile } from "../../data/profile/parse.ts";
import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { readSequence } from "../../data/sequence/parse.ts";
import type { Sequence } from "../../data/sequence/sequence.ts";
import { mechanismsOf } from "../../diagnosis/model/places.ts";
import { tellDoubts, tellProblems } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { secondsOf } from "../../domain/units.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { compile } from "../../plan/compile.ts";
import { lintSequence } from "../../plan/lint.ts";
import { fingerprint } from "../../plan/stored.ts";
import { type Plan, type PlannedStep, planOf } from "../../plan/timeline.ts";
import { handMinutes, handWorkInWords, minutesInWords } from "../../reports/hand-work.ts";
import { wrapped } from "../../reports/wrap.ts";
import { stepInWords } from "../../run/session/job.ts";
import { load, loadMaterial, type Names } from "../common/data.ts";
import { complain, EXIT, type ExitCode, print, refuse } from "../common/output.ts";

/** Prints what a sequence would do with a fixture, and what it costs, without moving anything. */
export const showSequence = (names: Names, json: boolean): ExitCode => {
  const material = loadMaterial(fileLibrary(), names);
  if (!material.ok) return refuse(material.problems);
  const { profile, sequence, bench } = material.value;
  const plan = planOf(compile(profile.value, sequence.value, bench.value));
  const fitted = mechanismsOf(fittedOf(profile.value));
  const [ordinary, dustOnly] = (["ordinary", "light"] as const).map((dirt) =>
    handMinutes(sequence.value, fitted, dirt),
  );
  if (!ordinary || !dustOnly) throw new Error("Bug: two levels of dirt give two plans");
  if (json) {
    const steps = plan.steps.map((entry) =>
      stepData(entry, entry.step.fitted ? fingerprint(profile.value, entry.step) : ""),
    );
    print(
      JSON.stringify(
        {
          sequence: sequence.value.name,
          profile: profile.value.name,
          ...totals(plan),
          by_hand_min: { ordinary, dust_only: dustOnly },
          steps,
        },
        undefined,
        2,
      ),
    );
  } else {
    print(
      [
        `${safeText(sequence.value.title)}, for ${safeText(profile.value.title)}`,
        "",
        ...plan.steps.flatMap((entry, index) => [...byHandBefore(sequence.value, index), stepLine(entry)]),
        ...byHandBefore(sequence.value, plan.steps.length),
        "",
        ...totalLines(plan),
        ...minutesInWords(plan, ordinary, dustOnly).flatMap((words) => wrapped(words, 78)),
      ].join("\n"),
    );
  }
  return EXIT.done;
};

/** What is done by hand has no length: it takes as long as it takes. */
const byHandBefore = ({ byHand }: Sequence, index: number): readonly string[] =>
  byHand.filter(({ before }) => before === index).map(({ work }) => `       by hand  ${handWorkInWords(work)}`);

const stepData = ({ step, start, length }: PlannedStep, print: string) => ({
  id: step.id,
  routine: step.routine,
  function: step.functions.join("+") || "fixture",
  fitted: step.fitted,
  start_s: round(start),
  length_s: round(length),
  lead_in_s: round(secondsOf(step.leadIn)),
  floor_s: round(step.floor),
  beam: step.beam,
  watch: step.watch,
  notes: step.notes,
  line: step.line,
  fingerprint: print,
});

const totals = (plan: Plan) => ({
  total_s: round(plan.total),
  watched_s: round(plan.watched),
  floor_s: round(plan.floor),
});

const stepLine = ({ step, length }: PlannedStep): string => {
  if (!step.fitted) return `    not fitted  ${stepInWords(step)}`;
  const head = `${length.toFixed(1).padStart(7)} s  beam ${step.beam.padEnd(4)}  ${stepInWords(step)}`;
  return [head, ...step.notes.map((note) => `              ${note}`)].join("\n");
};

const totalLines = (plan: Plan): readonly string[] => [
  `Driven ${clock(plan.total)}, ${clock(plan.watched)} of it watched.`,
  `The fixture itself could not do these movements in less than ${clock(plan.floor)}.`,
];

const clock = (seconds: number): string => `${Math.floor(seconds / 60)} min ${Math.round(seconds % 60)} s`;
const round = (value: number): number => Math.round(value * 1000) / 1000;

/** Tells of every sequence named what is wrong with it, or of little use; played on no fixture, worked out for all. */
export const checkSequences = (names: readonly string[], benchName: string): ExitCode => {
  const bench = load(fileLibrary(), "benches", benchName, parseBench);
  if (!bench.ok) return refuse(bench.problems);
  const profiles = everyProfile();
  const sound = names.map((name) => checkOne(name, profiles, bench.value.value));
  return sound.every((one) => one) ? EXIT.done : EXIT.input;
};

const everyProfile = (): readonly Profile[] =>
  fileLibrary()
    .names("profiles")
    .flatMap((name) => {
      const loaded = load(fileLibrary(), "profiles", name, parseProfile);
      return loaded.ok ? [loaded.value.value] : [];
    });

const checkOne = (name: string, profiles: readonly Profile[], bench: Bench): boolean => {
  const read = load(fileLibrary(), "sequences", name, readSequence);
  if (!read.ok) {
    complain(tellProblems(read.problems));
    return false;
  }
  const { sequence } = read.value.value;
  const doubts = lintSequence(read.value.value, profiles, bench);
  if (doubts.length > 0) {
    const count = doubts.length === 1 ? "1 thing" : `${doubts.length} things`;
    complain(`${tellDoubts(doubts)}\n\n${count} to look at; the sequence can be played.`);
  } else {
    const steps = `${sequence.steps.length} ${sequence.steps.length === 1 ? "step" : "steps"}`;
    print(
      `${safeText(sequence.name)}: nothing to correct. ${safeText(sequence.title)}, ${steps}, worked out for ${profiles.length} kinds of fixture.`,
    );
  }
  return doubts.length === 0;
};
