interface Shown {
  readonly size: number;
  /** How often one or two odd ones that are six times as far off as sound ones scatter are named, in tenths. */
  readonly one: number;
  readonly two: number;
}

/**
 * By how many readings of the rack share the risk of a false name; a number in between counts as the next greater, a size in
 * between as the next smaller. Simulated, 4000 racks of each; sound ones scatter normally.
 */
const SHOWN: readonly (readonly [sharers: number, readonly Shown[]])[] = [
  [
    1,
    [
      { size: 4, one: 3, two: 0 },
      { size: 5, one: 4, two: 0 },
      { size: 6, one: 6, two: 1 },
      { size: 7, one: 7, two: 1 },
      { size: 8, one: 8, two: 6 },
      { size: 12, one: 9, two: 8 },
      { size: 24, one: 10, two: 10 },
    ],
  ],
  [
    3,
    [
      { size: 4, one: 1, two: 0 },
      { size: 5, one: 2, two: 0 },
      { size: 6, one: 3, two: 0 },
      { size: 7, one: 4, two: 0 },
      { size: 8, one: 6, two: 3 },
      { size: 12, one: 8, two: 7 },
      { size: 24, one: 10, two: 9 },
    ],
  ],
  [
    6,
    [
      { size: 4, one: 0, two: 0 },
      { size: 5, one: 1, two: 0 },
      { size: 6, one: 2, two: 0 },
      { size: 7, one: 3, two: 0 },
      { size: 8, one: 5, two: 2 },
      { size: 12, one: 7, two: 5 },
      { size: 24, one: 9, two: 8 },
    ],
  ],
  [
    12,
    [
      { size: 4, one: 0, two: 0 },
      { size: 5, one: 0, two: 0 },
      { size: 6, one: 1, two: 0 },
      { size: 7, one: 1, two: 0 },
      { size: 8, one: 3, two: 0 },
      { size: 12, one: 6, two: 3 },
      { size: 24, one: 9, two: 7 },
    ],
  ],
];

/**
 * What readings of one kind of fixture can and cannot show. `count` is how many fixtures were read, and `sharers` is how
 * many readings of the whole rack share the risk that a sound fixture is named.
 */
export const canShow = (count: number, sharers: number): string => {
  const [, sizes] = SHOWN.find(([many]) => many >= sharers) ?? SHOWN.at(-1) ?? [0, []];
  const shown = sizes.findLast(({ size }) => size <= count);
  if (!shown)
    return `With ${count} of a kind no reading can say which one is suspect: compare them by eye, or with one that is known to be good.`;
  const { one, two } = shown;
  return `What ${count} of a kind can show: one that is six times as far off as good ones differ among themselves is named ${often(one)}, two such ${often(two)}. With nothing wrong, no more than one rack of 20 has a name all the same, all its readings taken together. Simulated.`;
};

const often = (tenths: number): string =>
  tenths === 0 ? "hardly ever" : tenths === 10 ? "nearly always" : `${tenths} times in 10`;
