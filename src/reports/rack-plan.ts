import type { Expected } from "../run/batch/expected.ts";
import type { Turn } from "../run/batch/turns.ts";
import { spanInWords } from "./status-words.ts";
import { hanging } from "./wrap.ts";

export interface RackPlanTold {
  readonly title: string;
  readonly serials: readonly string[];
  readonly turns: readonly Turn[];
  readonly expected: Expected;
  /** "3 of 40 runs in the journal showed something", or that it is a starter value. */
  readonly rateInWords: string;
}

const WIDTH = 80;

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
