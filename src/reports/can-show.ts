import type { Risk } from "../data/rack/odd.ts";

interface Shown {
  readonly size: number;
  /** How often one or two odd ones that are six times as far off as sound ones scatter are named, in tenths. */
  readonly one: number;
  readonly two: number;
  /** In one of so many racks with nothing wrong a sound one is named. */
  readonly falseIn: number;
}

/** Simulated, 200 000 racks of each size; sound ones scatter normally. A size in between counts as the smaller. */
const SHOWN: Readonly<Record<Risk, readonly Shown[]>> = {
  all: [
    { size: 4, one: 3, two: 0, falseIn: 20 },
    { size: 5, one: 6, two: 1, falseIn: 12 },
    { size: 6, one: 7, two: 1, falseIn: 12 },
    { size: 7, one: 8, two: 2, falseIn: 12 },
    { size: 8, one: 8, two: 6, falseIn: 20 },
    { size: 12, one: 9, two: 8, falseIn: 20 },
    { size: 24, one: 10, two: 9, falseIn: 25 },
  ],
  half: [
    { size: 4, one: 2, two: 0, falseIn: 20 },
    { size: 5, one: 4, two: 0, falseIn: 12 },
    { size: 6, one: 5, two: 1, falseIn: 12 },
    { size: 7, one: 7, two: 1, falseIn: 12 },
    { size: 8, one: 6, two: 4, falseIn: 20 },
    { size: 12, one: 8, two: 7, falseIn: 20 },
    { size: 24, one: 10, two: 9, falseIn: 25 },
  ],
};

/** What readings of so many fixtures of a kind can and cannot show. */
export const canShow = (count: number, risk: Risk): string => {
  const shown = SHOWN[risk].findLast(({ size }) => size <= count);
  if (!shown)
    return `With ${count} of a kind no reading can say which one is odd: compare them by eye, or with one that is known to be good.`;
  const { one, two, falseIn } = shown;
  return `What ${count} of a kind can show: one that is six times as far off as good ones differ among themselves is named ${often(one)}, two such ${often(two)}. In about one rack of ${falseIn} with nothing wrong one is named all the same. Simulated.`;
};

const often = (tenths: number): string =>
  tenths === 0 ? "hardly ever, since they hide each other" : tenths === 10 ? "nearly always" : `${tenths} times in 10`;
