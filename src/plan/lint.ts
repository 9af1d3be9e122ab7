import type { Bench } from "../data/bench/bench.ts";
import type { Profile } from "../data/profile/profile.ts";
import type { ReadSequence } from "../data/sequence/parse.ts";
import type { Sequence, Step } from "../data/sequence/sequence.ts";
import { type Path, problemAt } from "../domain/problem/document.ts";
import type { Doubt } from "../domain/problem/problem.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import type { Seconds } from "../domain/units.ts";
import { lookFor } from "./base.ts";
import { compile } from "./compile.ts";
import { MOST_FLASHES } from "./flashes.ts";
import { planOf, type Timeline } from "./timeline.ts";

/** What is doubtful in a sequence, played on any of these kinds of fixture on this bench; first in the file first. */
export const lintSequence = (
  { file, sequence }: ReadSequence,
  profiles: readonly Profile[],
  bench: Bench,
): readonly Doubt[] => {
  const worked = { sequence, timelines: profiles.map((profile) => compile(profile, sequence, bench)) };
  return SEQUENCE_RULES.flatMap(({ name, why, find }) =>
    find(worked).map(({ path, message, instead }) => ({
      rule: name,
      why,
      problem: problemAt(file, inFile(sequence, path), { message, hint: instead, at: "key" }),
    })),
  ).sort((a, b) => (a.problem.place?.line ?? 0) - (b.problem.place?.line ?? 0));
};

/** Driven steps are counted by themselves; in the file what is done by hand stands between them. */
const inFile = ({ byHand }: Sequence, [steps = "", index, ...deeper]: Path): Path =>
  typeof index === "number"
    ? [steps, index + byHand.filter(({ before }) => before <= index).length, ...deeper]
    : [steps];

/** A sequence worked out for every kind of fixture that it may be played on. */
interface Worked {
  readonly sequence: Sequence;
  readonly timelines: readonly Timeline[];
}

/** Something that can be played and is yet of little use, or should not be done in front of people. */
export interface SequenceRule {
  readonly name: string;
  /** One sentence: what goes wrong at the bench when it is left as it is. */
  readonly why: string;
  readonly find: (worked: Worked) => readonly SequenceFinding[];
}

interface SequenceFinding {
  /** Where in the file. */
  readonly path: Path;
  readonly message: string;
  readonly instead: string;
}

/** A routine on a function to which no kind of fixture lends itself. */
const fitsNothing: SequenceRule = {
  name: "fits-nothing",
  why: "A step that fits no fixture is never played, and nobody notices that it is missing.",
  find: ({ sequence, timelines }) =>
    sequence.steps.flatMap(({ routine, functions }, index) => {
      const played = new Set(timelines.flatMap(({ steps }) => (steps[index]?.fitted ? steps[index].functions : [])));
      const whole = functions.length === 0 && timelines.every(({ steps }) => !steps[index]?.fitted);
      const idle = functions.filter((id) => !played.has(id));
      return whole || idle.length > 0
        ? [
            {
              path: ["steps", index],
              message: `"${ROUTINES[routine].words}" fits ${whole ? "no fixture" : `${idle.map(functionWords).join(", ")} of no fixture`} here`,
              instead:
                "a routine that suits it: sweep for what travels, step-through for a wheel, in-and-out for a leaf",
            },
          ]
        : [];
    }),
};

/** More than three flashes a second (WCAG 2.2, 2.3.1), had the beam been open: such a step is played dark, or not at all. */
const flashesInView: SequenceRule = {
  name: "flashes-in-view",
  why: "More than three flashes in a second can bring a seizure on in somebody who is in the room.",
  find: ({ sequence, timelines }) =>
    sequence.steps.flatMap((_, index) => {
      const most = Math.max(0, ...timelines.map(({ steps }) => steps[index]?.flashes ?? 0));
      return most <= MOST_FLASHES
        ? []
        : [
            {
              path: ["steps", index],
              message: `${most} flashes in a second: it is played dark, or not at all`,
              instead: "a longer dwell_s or more seconds, or beam: shut",
            },
          ];
    }),
};

/** A step that wants light and is dark on every fixture, since it leaves the directions in which the beam may be open. */
const lightNeverSeen: SequenceRule = {
  name: "light-never-seen",
  why: "It is played in the dark, where what it is to show cannot be seen.",
  find: ({ sequence, timelines }) =>
    sequence.steps.flatMap((step, index) => {
      const fitting = timelines.flatMap(({ steps }) => (steps[index]?.fitted ? [steps[index]] : []));
      return lookFor(step) === "dark" || fitting.length === 0 || fitting.some(({ beam }) => beam === "open")
        ? []
        : [
            {
              path: ["steps", index],
              message: "wants light, and moves out of the directions in which this bench allows it",
              instead: "smaller movements (deg: 15), or beam: shut when it is for the ear",
            },
          ];
    }),
};

/** A person takes 0.3 to 0.6 s to press (judgement); less than half of that is not seen at all. */
const SHORTEST: Seconds = 0.25;

/** Stands for so short a time that nobody can judge it. */
const dwellTooShort: SequenceRule = {
  name: "dwell-too-short",
  why: "What has moved on before anybody can look is not tested.",
  find: ({ sequence: { steps } }) =>
    steps.flatMap(({ options: { dwell_s } }, index) =>
      dwell_s !== undefined && dwell_s < SHORTEST
        ? [
            {
              path: ["steps", index, "dwell_s"],
              message: `stands for only ${dwell_s} s`,
              instead: `dwell_s: ${SHORTEST} or more`,
            },
          ]
        : [],
    ),
};

/** A power-up in the middle, where nothing was done by hand with the mains off. */
const powerUpLate: SequenceRule = {
  name: "power-up-late",
  why: "Homing tells most when it is watched cold; later the mains has to go off in the middle of a run.",
  find: ({ sequence: { steps, byHand } }) =>
    steps.flatMap(({ routine }, index) =>
      routine === "power-up" && index > 0 && !byHand.some(({ before }) => before === index)
        ? [
            {
              path: ["steps", index],
              message: "a power-up in the middle of the run",
              instead: "power-up: fixture first of all, or home: fixture here",
            },
          ]
        : [],
    ),
};

/** The very same step twice in a row. Homing again and again is a test of its own: does it find the same place each time? */
const saidTwice: SequenceRule = {
  name: "said-twice",
  why: "It costs its time again and shows nothing that the first did not.",
  find: ({ sequence: { steps, byHand } }) =>
    steps.flatMap((step, index) =>
      isAgain(step, steps[index - 1]) && !byHand.some(({ before }) => before === index)
        ? [
            {
              path: ["steps", index],
              message: "the same step as the one before",
              instead: "once, with more passes or times",
            },
          ]
        : [],
    ),
};

const isAgain = (step: Step, before: Step | undefined): boolean =>
  step.routine !== "home" && sameAs(step) === sameAs(before);

const sameAs = (step: Step | undefined): string =>
  JSON.stringify(step && [step.routine, step.functions, Object.entries(step.options).sort()]);

/** Watchfulness falls within about this time (Mackworth 1948, secondary). */
const LONGEST_MIN = 30;

/** More minutes with eyes on the fixture than anybody can watch. */
const watchedTooLong: SequenceRule = {
  name: "watched-too-long",
  why: "After half an hour people miss what they would have seen at the beginning.",
  find: ({ timelines }) => {
    const longest = timelines
      .map((timeline) => ({ title: timeline.profile.title, minutes: Math.round(planOf(timeline).watched / 60) }))
      .reduce((a, b) => (b.minutes > a.minutes ? b : a), { title: "", minutes: 0 });
    return longest.minutes <= LONGEST_MIN
      ? []
      : [
          {
            path: ["steps"],
            message: `${longest.minutes} minutes to be watched (${longest.title})`,
            instead: "two sequences with a rest between them, or fewer passes",
          },
        ];
  },
};

/** Everything a sequence is looked at for. */
export const SEQUENCE_RULES: readonly SequenceRule[] = [
  flashesInView,
  fitsNothing,
  lightNeverSeen,
  dwellTooShort,
  powerUpLate,
  saidTwice,
  watchedTooLong,
];
