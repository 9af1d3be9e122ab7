import type { Seconds } from "../domain/units.ts";
import type { Stock, StockFixture } from "../run/memory/stock.ts";
import { type ReleaseStatus, STATE_WORDS } from "../run/release/release-status.ts";

/** The status of a fixture, and everything that blocks its release, a line each. */
export const releaseStatusInWords = ({ state, reasons, signed }: ReleaseStatus): readonly string[] => [
  signed === undefined ? STATE_WORDS[state] : `${STATE_WORDS[state]}, signed by ${signed}`,
  ...reasons.map(({ words }) => words),
];

/** How many fixtures are in which state: "12 fixtures; released: 10; held back: 2". */
export const stockTally = (all: readonly StockFixture[]): string => {
  const counts = new Map<string, number>();
  for (const { state } of all) counts.set(STATE_WORDS[state], (counts.get(STATE_WORDS[state]) ?? 0) + 1);
  return [many(all.length, "fixture"), ...[...counts].map(([words, count]) => `${words}: ${count}`)].join("; ");
};

/** What a reader must know of a state. */
export const STATE_CAUTION =
  "Released: a person has signed and nothing blocked it. Every other state is calculated from what was recorded.";

/** What a reader must know of the numbers of the stock: whether they are simulated, and what was left out of them. */
export const leftOutInWords = ({ simulated, leftOut }: Stock): string =>
  [
    STATE_CAUTION,
    ...(leftOut.otherKind > 0
      ? [
          `Not counted: ${many(leftOut.otherKind, simulated ? "run" : "simulated run")}${simulated ? " of real fixtures" : ""}.`,
        ]
      : []),
    ...(leftOut.withoutSerial > 0
      ? [`Not counted: ${many(leftOut.withoutSerial, "run")} without a serial number.`]
      : []),
  ].join(" ");

/** A count with its noun: "1 run", "3 runs". `count` is a whole number from 0, and `one` is the noun for one of them. */
export const many = (count: number, one: string): string => `${count} ${count === 1 ? one : `${one}s`}`;

/** A number of `hours` in words: "less than 1 h", "5 h", "18 days". */
export const hoursInWords = (hours: number): string => {
  if (hours < 1) return "less than 1 h";
  return hours < 48 ? `${Math.round(hours)} h` : `${Math.round(hours / 24)} days`;
};

/** A time in words: "12 s", "2 min 40 s". */
export const spanInWords = (time: Seconds): string => {
  const whole = Math.max(0, Math.ceil(time));
  const minutes = Math.floor(whole / 60);
  const seconds = whole % 60;
  if (minutes === 0) return `${seconds} s`;
  return seconds === 0 ? `${minutes} min` : `${minutes} min ${seconds} s`;
};
