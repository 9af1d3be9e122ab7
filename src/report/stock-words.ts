import { STANDINGS } from "../memory/standing.ts";
import type { Stock, StockFixture } from "../memory/stock.ts";

/** "12 fixtures; passed its last run: 10; failed its last run: 2". */
export const tallyOf = (all: readonly StockFixture[]): string => {
  const counts = new Map<string, number>();
  for (const { standing } of all) counts.set(STANDINGS[standing], (counts.get(STANDINGS[standing]) ?? 0) + 1);
  return [many(all.length, "fixture"), ...[...counts].map(([words, count]) => `${words}: ${count}`)].join("; ");
};

/** What a reader must know of these numbers. */
export const leftOutInWords = ({ simulated, leftOut }: Stock): string =>
  [
    "A state here is what the runs say; it does not call a fixture safe to use.",
    ...(leftOut.otherKind > 0
      ? [`Not counted: ${many(leftOut.otherKind, simulated ? "real run" : "simulated run")}.`]
      : []),
    ...(leftOut.withoutSerial > 0
      ? [`Not counted: ${many(leftOut.withoutSerial, "run")} without a serial number.`]
      : []),
  ].join(" ");

export const many = (count: number, one: string): string => `${count} ${count === 1 ? one : `${one}s`}`;

/** "less than 1 h", "5 h", "18 days". */
export const hoursInWords = (hours: number): string => {
  if (hours < 1) return "less than 1 h";
  return hours < 48 ? `${Math.round(hours)} h` : `${Math.round(hours / 24)} days`;
};
