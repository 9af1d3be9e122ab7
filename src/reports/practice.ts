import { type Detection, detectionOf, type Tally } from "../diagnosis/places/detection.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { shareOf } from "../domain/statistics/sample.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import { symptomWords } from "../domain/trade/symptoms.ts";
import type { Seconds } from "../domain/units.ts";
import { type PractisedStep, practiceTally } from "../run/events/watcher.ts";
import { spanInWords } from "./status-words.ts";
import { hanging } from "./wrap.ts";

/** One round of practice, with what was hidden. */
export interface PracticeRound {
  readonly number: number;
  readonly level: string;
  readonly run: string;
  readonly person: string;
  readonly set: readonly { readonly id: string; readonly words: string }[];
  readonly steps: readonly PractisedStep[];
  readonly seconds: Seconds;
  /** What the answers make likeliest. */
  readonly guess: string;
  /** Whether that is the hidden fault. */
  readonly guessed: "right" | "wrong" | "nothing was hidden";
  readonly ended: "finished" | "left";
}

const WIDTH = 78;

/**
 * What is told after a round: the hidden fault, what of it was caught, missed, and the false alarms.
 * `rounds` is how many rounds there are in all.
 */
export const tellRound = (round: PracticeRound, rounds: number): string => {
  const { number, level, set, steps, seconds, guess, guessed, ended } = round;
  const of = (came: PractisedStep["came"]) => steps.filter((one) => one.came === came);
  const list = (label: string, those: readonly PractisedStep[]) =>
    those.length === 0 ? [] : hanging(`  ${label.padEnd(18)}`, those.map(stepInWords).join("; "), WIDTH);
  return [
    `SIMULATED. Practice, ${level}, round ${number} of ${rounds}${ended === "left" ? ", left before its end" : ""}: ${spanInWords(seconds)}.`,
    ...hanging(
      `  ${"hidden fault".padEnd(18)}`,
      set.length > 0 ? set.map(({ words }) => words).join("; ") : "nothing",
      WIDTH,
    ),
    ...list("caught", of("caught")),
    ...list("missed", of("missed")),
    ...list("false alarms", of("false alarm")),
    ...(of("passed correctly").length > 0
      ? [`  ${"passed correctly".padEnd(18)}${of("passed correctly").length}`]
      : []),
    ...hanging(`  ${"your answers say".padEnd(18)}`, `${safeText(guess)}${GUESSED[guessed]}`, WIDTH),
  ].join("\n");
};

const GUESSED = {
  right: ". That is the hidden fault: found",
  wrong: ". The hidden fault was not found",
  "nothing was hidden": "",
} as const;

/** "pan: full sweep (knocks when it reverses)". */
const stepInWords = ({ step, shown }: PractisedStep): string => {
  const what = `${step.functions.map(functionWords).join(", ") || "whole fixture"}: ${ROUTINES[step.routine].words}`;
  const showed = shown.symptoms.map(symptomWords).join(", ");
  return showed === "" ? what : `${what} (${showed})`;
};

/**
 * What is told at the end of practice: how much of what showed was caught, and how often
 * something was called that was not there.
 */
export const tellPractice = (rounds: readonly PracticeRound[], quickness: string | undefined): string => {
  const { hits, misses, falseAlarms, rightlyQuiet } = tallyIn(rounds);
  const count = `${rounds.length} ${rounds.length === 1 ? "round" : "rounds"}`;
  return [
    `${count}, all simulated:`,
    `  caught: ${shareInWords(hits, hits + misses, "in which something showed")}`,
    `  false alarms: ${shareInWords(falseAlarms, falseAlarms + rightlyQuiet, "in which nothing did")}`,
    ...hanging(
      "  ",
      quickness ?? "With your initials (--person, or I) your own reaction is measured from your presses.",
      WIDTH,
    ),
  ].join("\n");
};

const tallyIn = (rounds: readonly PracticeRound[]): Tally => practiceTally(rounds.flatMap(({ steps }) => steps));

/** A wider range than this, of 95 times in 100, judges nobody. Judgement. */
const TOO_WIDE = 0.4;

/** "7 of 9 steps in which something showed; too few to judge". */
const shareInWords = (hits: number, of: number, which: string): string => {
  if (of === 0) return `there was no step ${which}`;
  const { low, high } = shareOf(hits, of);
  return `${hits} of ${of} ${of === 1 ? "step" : "steps"} ${which}; ${high - low > TOO_WIDE ? "too few to judge" : `probably between ${Math.round(100 * low)} and ${Math.round(100 * high)} %`}`;
};

/**
 * All of a practice as data, with the measures of signal detection (Green and Swets
 * 1966), which are for those who know them.
 */
export const practiceData = (rounds: readonly PracticeRound[]) => {
  const tally = tallyIn(rounds);
  const found: Detection | undefined = detectionOf(tally);
  return {
    simulated: true,
    practice: true,
    rounds: rounds.map(({ steps, ...round }) => ({
      ...round,
      steps: steps.map(({ step, came, shown }) => ({
        id: step.id,
        came,
        result: step.judged?.result,
        presses: step.presses.length,
        shown: shown.symptoms,
      })),
    })),
    tally,
    caught: shareOf(tally.hits, tally.hits + tally.misses),
    falselyCalled: shareOf(tally.falseAlarms, tally.falseAlarms + tally.rightlyQuiet),
    dPrime: found?.sensitivity,
    criterion: found?.criterion,
  };
};
