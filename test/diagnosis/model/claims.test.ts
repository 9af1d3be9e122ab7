import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { claimOf, FIXED_TEMPER, type KeptClaim, tempered, temperOf } from "../../../src/diagnosis/model/claims.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";

test("a temper keeps the order and the middle, and makes sure answers less sure", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.001, max: 0.999, noNaN: true }),
      fc.double({ min: 0.001, max: 0.999, noNaN: true }),
      (a, b) => {
        const power = FIXED_TEMPER.power;
        if (a < b) expect(tempered(a, power)).toBeLessThanOrEqual(tempered(b, power));
        expect(Math.abs(tempered(a, power) - 0.5)).toBeLessThanOrEqual(Math.abs(a - 0.5) + 1e-12);
      },
    ),
  );
  expect(tempered(0.5, 0.6)).toBeCloseTo(0.5, 12);
  // Worked: odds 49 to the power 0.6 are 10.33, so 0.9118.
  expect(tempered(0.98, 0.6)).toBeCloseTo(0.9117, 3);
});

describe("measured on a shop's own finds", () => {
  /** Finds of a shop in which answers come true as odds to this power say. */
  const finds = (count: number, power: number): readonly KeptClaim[] => {
    const chance = chanceFrom(7);
    return Array.from({ length: count }, () => {
      const probability = 0.5 + 0.499 * chance();
      return { probability, right: chance() < tempered(probability, power) };
    });
  };

  test("with fewer than thirty nothing is measured: words, by a fixed temper", () => {
    expect(temperOf(finds(29, 0.3))).toBe(FIXED_TEMPER);
    expect(claimOf(0.98, temperOf(finds(29, 0.3)))).toEqual({ kind: "judged", words: "most likely" });
  });

  test.each([0.3, 0.6, 1])("from many the power %d is found again", (power) => {
    expect(Math.abs(temperOf(finds(4000, power)).power - power)).toBeLessThan(0.1);
  });

  test("then a claim is a number, with the finds that it rests on", () => {
    expect(claimOf(0.98, temperOf(finds(60, 0.3)))).toMatchObject({ kind: "measured", finds: 60 });
  });
});
