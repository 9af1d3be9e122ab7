import fc from "fast-check";
import { expect, test } from "vitest";
import { reactionDensity, USUAL_REACTION } from "../../../src/diagnosis/places/delay.ts";
import { type Claims, chainSum, chainsOf } from "../../../src/diagnosis/places/pairing.ts";

const claims = (events: readonly number[], presses: readonly number[]): readonly Claims[] =>
  events.map((event) => presses.map((press, i) => [i, reactionDensity(USUAL_REACTION, press - event)] as const));

const logOf = (events: readonly number[], presses: readonly number[], length: number, caught = 0.9, stray = 0.02) =>
  chainsOf(claims(events, presses)).reduce(
    (sum, chain) => sum + Math.log(chainSum(chain, caught, stray)),
    -stray * length + presses.length * Math.log(stray),
  );

/** Worked independently of this code, and again with scipy 1.17 (exponnorm): crossings at 2.9 and 3.1 s, T = 6, q = .9, eps = .02. */
test.each([
  { presses: [3.3, 3.55], log: 1.95731586 },
  { presses: [3.3], log: -1.12096183 },
])("two crossings close together and presses at $presses give $log", ({ presses, log }) => {
  expect(logOf([2.9, 3.1], presses, 6)).toBeCloseTo(log, 8);
});

/** Every way to give events presses or none, one after the other, no press twice. */
const byHand = (events: readonly Claims[], caught: number, stray: number, taken: readonly number[] = []): number => {
  const [first, ...rest] = events;
  if (!first) return 1;
  return first
    .filter(([press]) => !taken.includes(press))
    .reduce(
      (sum, [press, density]) => sum + ((caught * density) / stray) * byHand(rest, caught, stray, [...taken, press]),
      (1 - caught) * byHand(rest, caught, stray, taken),
    );
};

/** Events in order, each with a run of presses that never goes back: as windows over presses in the order of time are. */
const windows = fc
  .array(
    fc.tuple(
      fc.nat(2),
      fc.nat(3),
      fc.array(fc.double({ min: 0.001, max: 5, noNaN: true }), { minLength: 4, maxLength: 4 }),
    ),
    {
      minLength: 1,
      maxLength: 6,
    },
  )
  .map((steps) => {
    let low = 0;
    return steps.map(([forth, count, densities]): Claims => {
      low += forth;
      return densities.slice(0, count).map((density, i) => [low + i, density]);
    });
  });

test("no press is ever claimed twice: the sum is that over all pairings, counted one by one", () => {
  fc.assert(
    fc.property(windows, fc.double({ min: 0.1, max: 0.99, noNaN: true }), (events, caught) => {
      const product = chainsOf(events).reduce((all, chain) => all * chainSum(chain, caught, 0.02), 1);
      expect(product / byHand(events, caught, 0.02)).toBeCloseTo(1, 9);
    }),
    { numRuns: 500 },
  );
});

test("one press among many events is worth no more than one press, however many could claim it", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 8 }), fc.double({ min: 0.1, max: 0.95, noNaN: true }), (count, caught) => {
      const events = Array.from({ length: count }, (): Claims => [[0, 2]]);
      const [missed, stray] = [1 - caught, 0.02];
      const once = missed ** count + count * caught * missed ** (count - 1) * (2 / stray);
      expect(chainSum(events, caught, stray) / once).toBeCloseTo(1, 9);
    }),
  );
});

test("events that share no press are reckoned apart, each by the lone form", () => {
  const chains = chainsOf([
    [[0, 1]],
    [[1, 2]],
    [],
    [
      [2, 1],
      [3, 1],
    ],
    [[3, 4]],
  ]);
  expect(chains.map((chain) => chain.length)).toEqual([1, 1, 1, 2]);
  expect(chainSum([[[0, 1]]], 0.9, 0.02)).toBeCloseTo(0.1 + 0.9 * 50, 12);
});

test("the trap: by the lone form a stop at the end looks like a place near it, by the pairing it does not", () => {
  // The fixture arrives at the end at 10 s and leaves it at 10.25 s; a place 3 degrees from it is crossed 0.05 s from either.
  const presses = [10.55];
  const [end, place] = [[10.1], [10.05, 10.3]];
  const lone = place.reduce(
    (sum, event) => sum + Math.log(chainSum(claims([event], presses), 0.9, 0.02)),
    -0.02 * 20 + Math.log(0.02),
  );
  expect(lone).toBeGreaterThan(logOf(end, presses, 20));
  expect(logOf(place, presses, 20)).toBeLessThan(logOf(end, presses, 20));
});
