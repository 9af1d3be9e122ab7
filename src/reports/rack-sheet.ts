import { safeText } from "../domain/problem/shown-text.ts";
import type { Seconds } from "../domain/units.ts";
import type { Expected } from "../run/batch/expected.ts";
import type { RackWatched, StateAtEnd } from "../run/batch/members.ts";
import type { Turn } from "../run/batch/turns.ts";
import type { UnnamedPress } from "../run/batch/which.ts";
import { spanInWords } from "./status-words.ts";
import { hanging } from "./wrap.ts";

/** What came of a rack run: every fixture in a line, and what it cost in time. */
export interface RackSheet {
  readonly run: string;
  readonly title: string;
  readonly simulated: boolean;
  readonly ended: string;
  readonly fixtures: readonly FixtureLine[];
  readonly watched: RackWatched;
  /** Pressed for one of these, and not said which. */
  readonly unnamed: readonly UnnamedPress[];
  /** From the first movement to the end; undefined where nobody knows any more: simulated time is not kept. */
  readonly took: Seconds | undefined;
  /** What the same steps would have taken one fixture after the other, by the plan. */
  readonly oneByOne: Seconds;
}

export interface FixtureLine {
  readonly serial: string;
  readonly place: string;
  readonly run: string;
  readonly state: StateAtEnd;
  /** Steps that it was to be watched at and was not. */
  readonly notWatched: number;
  /** What was named, in words. */
  readonly symptoms: readonly string[];
  /** The likeliest fault and how likely, in words; undefined when nothing was named. */
  readonly mayBe: string | undefined;
  /** Faults that were set in a simulated fixture, by the names that the program has for them. */
  readonly set: readonly string[];
  /** What these are, in words. */
  readonly hidden: readonly string[];
}

const WIDTH = 80;

/**
 * What came of a rack run in words, for a terminal or a printer: the fixtures with a fault first, then
 * the quiet ones, then the time it took.
 */
export const tellRackSheet = (sheet: RackSheet): string =>
  [
    ...hanging("", `Rack: ${sheet.title}; run ${sheet.run}; ${sheet.ended}.`, WIDTH),
    ...(sheet.simulated ? ["SIMULATED: simulated fixtures, not real ones."] : []),
    "",
    ...faultLines(sheet),
    ...quietLines(sheet, "nothing seen", "Nothing seen"),
    ...quietLines(sheet, "not watched", "Not watched, nothing can be said"),
    ...quietLines(sheet, "not finished", "Not finished"),
    ...quietLines(sheet, "withdrawn", "Withdrawn"),
    "",
    ...hanging("", timeInWords(sheet), WIDTH),
    "",
    ...hanging("", DEFER, WIDTH),
  ]
    .map(safeText)
    .join("\n");

export const DEFER = "Limber does not replace the maker's manual, local codes or licensed electrical work.";

const faultLines = ({ fixtures, unnamed, watched }: RackSheet): readonly string[] => {
  const faulty = fixtures.filter(({ state }) => state === "fault seen");
  const suspects = fixtures.filter(({ state }) => state === "suspect");
  if (faulty.length + suspects.length + unnamed.length === 0) return [nothingWrong(watched), ""];
  return [
    ...(faulty.length === 0 ? [] : [`${faultyInWords(faulty.length)}:`]),
    ...faulty.flatMap(({ serial, place, run, symptoms, mayBe, hidden }) => [
      ...hanging("  ", `${serial}, ${place}: ${symptoms.join("; ")}`, WIDTH),
      ...(mayBe === undefined ? [] : hanging("    ", `${mayBe}; job sheet: limber sheet ${run}`, WIDTH)),
      ...(hidden.length === 0 ? [] : hanging("    ", `hidden fault: ${hidden.join("; ")}`, WIDTH)),
    ]),
    ...(suspects.length === 0 ? [] : [`${suspectsInWords(suspects.length)}:`]),
    ...suspects.flatMap(({ serial, place, run, hidden }) =>
      hanging("  ", `${serial}, ${place}; job sheet: limber sheet ${run}${hiddenIn(hidden)}`, WIDTH),
    ),
    ...unnamed.flatMap((one) => hanging("", unnamedInWords(one), WIDTH)),
    "",
  ];
};

/** Says that no fixture of the rack has anything wrong, on the screen and on the sheet. */
export const nothingWrong = (watched: RackWatched): string =>
  watched === "watched"
    ? "Nothing wrong was seen on any fixture that was watched."
    : "Nothing was watched to its end: nothing can be said of any fixture.";

/**
 * Says how many fixtures have something wrong, on the screen and on the sheet: "One has
 * something wrong". `count` is at least 1.
 */
export const faultyInWords = (count: number): string =>
  count === 1 ? "One has something wrong" : `${count} have something wrong`;

/**
 * Says how many fixtures are suspect: a press was made for them, or nobody was sure, and what it
 * was is not named. `count` is at least 1.
 */
export const suspectsInWords = (count: number): string =>
  count === 1 ? "One is a suspect, not described yet" : `${count} are suspects, not described yet`;

/** A press of which nobody said for which fixture it was: "Pressed once for one of S1, S2: not said which one." */
export const unnamedInWords = ({ serials, presses }: UnnamedPress): string =>
  `Pressed ${presses === 1 ? "once" : `${presses} times`} for one of ${serials.join(", ")}: not said which one.`;

const quietLines = ({ fixtures }: RackSheet, state: StateAtEnd, title: string): readonly string[] => {
  const some = fixtures.filter((one) => one.state === state);
  const told = some.map(
    ({ serial, hidden, notWatched }) => `${serial}${missedIn(state, notWatched)}${hiddenIn(hidden)}`,
  );
  return some.length === 0 ? [] : hanging(`${title}: `, told.join(", "), WIDTH);
};

const missedIn = (state: StateAtEnd, notWatched: number): string =>
  state !== "nothing seen" || notWatched === 0
    ? ""
    : ` (${notWatched} ${notWatched === 1 ? "step" : "steps"} not watched)`;

const hiddenIn = (hidden: readonly string[]): string =>
  hidden.length > 0 ? ` (hidden fault: ${hidden.join("; ")})` : "";

/**
 * How long the rack took, beside the same work one fixture after the other. Neither answering nor
 * moving the cable is counted for the latter.
 */
export const timeInWords = ({ took, oneByOne, fixtures, simulated }: RackSheet): string =>
  took === undefined
    ? `One by one the movements alone would have taken ${spanInWords(oneByOne)}.`
    : `${spanInWords(took)} for ${fixtures.length} fixtures, ${spanInWords(took / Math.max(1, fixtures.length))} each; one by one the movements alone ` +
      `would have taken ${spanInWords(oneByOne)}: ${percent(took / oneByOne)} of that.${simulated ? " Simulated time: nobody had to think or to walk." : ""}`;

const percent = (share: number): string => `${Math.round(share * 100)} %`;

export interface RackPlanTold {
  readonly title: string;
  readonly serials: readonly string[];
  readonly turns: readonly Turn[];
  readonly expected: Expected;
  /** "3 of 40 runs in the journal showed something", or that it is a starter value. */
  readonly rateInWords: string;
}

/** What a rack run will do and cost, printed before anything moves. */
export const tellRackPlan = ({ title, serials, turns, expected, rateInWords }: RackPlanTold): readonly string[] => [
  ...hanging("", `${title}: ${serials.length} fixtures.`, WIDTH),
  ...passesOf(turns).flatMap(({ name, members }) =>
    hanging("  ", `${name}: ${members.map((index) => serials[index]).join(", ")}`, WIDTH),
  ),
  ...hanging("", timesInWords(expected, serials.length), WIDTH),
  ...hanging("", missesInWords(expected), WIDTH),
  ...hanging("", `Expected from the share of fixtures that show something: ${rateInWords}.`, WIDTH),
];

interface WatchedPass {
  readonly name: string;
  readonly members: readonly number[];
}

const passesOf = (turns: readonly Turn[]): readonly WatchedPass[] =>
  [...new Set(turns.map(({ pass }) => pass))].map((pass) => {
    const own = turns.filter((turn) => turn.pass === pass);
    return { name: own[0]?.name ?? "", members: [...new Set(own.flatMap(({ members }) => members))] };
  });

const timesInWords = ({ together, alone, total, oneByOne, odd }: Expected, count: number): string =>
  `About ${spanInWords(total)} of movement: ${spanInWords(together)} in groups and ${spanInWords(alone)} for the suspects alone, ` +
  `about ${rounded(odd)} of ${count}; one by one it would be ${spanInWords(oneByOne)}.`;

const missesInWords = ({ faulty, missed }: Expected): string =>
  `Of about ${rounded(faulty)} with something wrong, watching in groups may let ${rounded(missed.together)} pass, one by one ${rounded(missed.oneByOne)} (judgement).`;

const rounded = (value: number): string =>
  value < 10 ? String(Math.round(value * 10) / 10) : String(Math.round(value));
