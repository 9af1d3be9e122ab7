import { describe, expect, test } from "vitest";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import type { SymptomId } from "../../../src/domain/trade/symptoms.ts";
import { runWith, SPOT } from "./spot.ts";

/** Where in the travel it happened. Common practice, no source. */
describe("the pattern of a jerk tells who makes it", () => {
  const jerk = (pattern: SymptomId) => ({ "sweep Pan": ["jerks", pattern] }) as const;
  const chance = (fault: string, pattern: SymptomId) =>
    rank(SPOT, runWith(jerk(pattern))).faults.find(({ id }) => id === fault)!.probability;
  const PATTERNS = ["at-one-place", "one-way-only", "near-an-end", "at-no-place"] as const;

  test.each([
    ["pan-encoder-disc", "at-one-place", "a rubbed disc is rubbed in one place"],
    ["pan-tension-wheel", "at-one-place", "so is a bad belt tooth"],
    ["loom-drag", "one-way-only", "the loom pulls one way"],
    ["pan-stop-off", "near-an-end", "a bent stop is at the end"],
    ["data-line", "at-no-place", "drop-outs know no place"],
    ["motor-open", "at-no-place", "nor does a lost phase"],
  ] as const)("%s: %s, for %s", (fault, pattern, _) => {
    const others = PATTERNS.filter((one) => one !== pattern);
    expect(chance(fault, pattern)).toBeGreaterThan(Math.max(...others.map((one) => chance(fault, one))));
  });
});
