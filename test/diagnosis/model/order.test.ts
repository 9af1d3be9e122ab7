import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bestOrder, expectedMinutesOrGivingUp, type Look, type Opening } from "../../../src/diagnosis/model/looks.ts";

const looks = (p: readonly number[], c: readonly number[]): readonly Look[] =>
  p.map((probability, i) => ({ id: `${i}`, probability, minutes: c[i]!, cover: "none" }));
const FREE = () => 0;
/** Nobody gives up, and something is wrong. */
const expectedMinutes = (order: readonly Look[], opening: Opening) =>
  expectedMinutesOrGivingUp(order, opening, { imagined: 0, missed: Number.POSITIVE_INFINITY });
const ids = (order: readonly Look[]) => order.map(({ id }) => id);

/** Worked by independent enumeration of all orders; the rule is Heckerman, Breese and Rommelse, CACM 38(3), 1995. */
describe("one fault, certain looks", () => {
  const five = looks([0.4, 0.25, 0.2, 0.1, 0.05], [20, 10, 6, 8, 1]);
  const cost = (order: readonly Look[]) => expectedMinutes(order, FREE);

  test("descending p / c", () => {
    expect(ids(bestOrder(five, FREE))).toEqual(["4", "2", "1", "0", "3"]);
    expect(cost(bestOrder(five, FREE))).toBeCloseTo(25, 12);
  });

  test("better than by probability, by cost, and the worst", () => {
    expect(cost(five)).toBeCloseTo(29.35, 12);
    expect(cost([...five].sort((a, b) => a.minutes - b.minutes))).toBeCloseTo(27.2, 12);
    expect(Math.max(...permutations(five).map(cost))).toBeCloseTo(32.55, 12);
  });

  test("a question first pays when it parts the faults: 15.6 minutes without it, 13.2 with", () => {
    const p = [0.5, 0.3, 0.2];
    const c = [10, 12, 4];
    const shows = [0.9, 0.2, 0.1];
    expect(cost(bestOrder(looks(p, c), FREE))).toBeCloseTo(15.6, 12);
    const answers = [shows, shows.map((s) => 1 - s)].map((given) => p.map((value, i) => value * given[i]!));
    const asked = 1 + answers.reduce((sum, weights) => sum + cost(bestOrder(looks(weights, c), FREE)), 0);
    expect(asked).toBeCloseTo(13.2, 12);
  });
});

test("with covers to open no order is better", () => {
  const look = fc.record({
    probability: fc.integer({ min: 1, max: 50 }).map((n) => n / 100),
    minutes: fc.integer({ min: 1, max: 20 }),
    cover: fc.constantFrom("head", "base"),
  });
  fc.assert(
    fc.property(
      fc.array(look, { minLength: 1, maxLength: 5 }),
      fc.record({ head: fc.integer({ min: 0, max: 15 }), base: fc.integer({ min: 0, max: 15 }) }),
      (some, minutes) => {
        const all = some.map((one, i) => ({ ...one, id: `${i}` }));
        const opening = (cover: string) => minutes[cover as "head" | "base"];
        const best = expectedMinutes(bestOrder(all, opening), opening);
        expect(best).toBeCloseTo(Math.min(...permutations(all).map((order) => expectedMinutes(order, opening))), 9);
      },
    ),
  );
});

function permutations<T>(items: readonly T[]): readonly (readonly T[])[] {
  if (items.length <= 1) return [items];
  return items.flatMap((item, i) => permutations(items.toSpliced(i, 1)).map((rest) => [item, ...rest]));
}
