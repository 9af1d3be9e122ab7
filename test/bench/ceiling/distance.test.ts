import { describe, expect, test } from "vitest";
import type { TriedCase } from "../../../src/app/simulated/trial-case.ts";
import { rankedBy } from "../../../src/app/simulated/trial-learned.ts";
import { fittedOf } from "../../../src/data/profile/profile.ts";
import { isStranger, networkFor } from "../../../src/diagnosis/model/network.ts";
import type { Observation } from "../../../src/diagnosis/model/observation.ts";
import { NOTHING_LEARNED } from "../../../src/diagnosis/model/shop.ts";
import { shippedProfile } from "../../kit/shipped.ts";
import { rankedAs, triedCase } from "../../kit/tried.ts";
import { alikePriors, asMet, distanceOf, distanceRows, tellDistance } from "./distance.ts";

const SPOT = shippedProfile("spot-16bit");
const PRIORS = new Map(networkFor(fittedOf(SPOT)).faults.map(({ id, prior }) => [id, prior]));
const priorOf = (id: string): number => PRIORS.get(id) ?? Number.NaN;

const tried = (set: string, right: readonly string[], ranked: readonly string[]): TriedCase =>
  triedCase({ set: [set], right: [right], ranked: rankedAs(...ranked), rankedBefore: rankedAs(...ranked) });

/** A is often, B seldom; C and D are two things that were set and have one right answer; E has two. */
const [A, B, CD, E1, E2] = ["lens-grime", "iris-lever", "driver-dead", "pan-belt-slack", "tilt-belt-slack"] as const;
const CASES: readonly TriedCase[] = [
  tried("a", [A], [A]),
  tried("a", [A], [B, A]),
  tried("b", [B], [A, E1, E2, B]),
  tried("c", [CD], [CD]),
  tried("d", [CD], [A, B, CD]),
  tried("e", [E1, E2], [E2]),
];

describe("all that was set expected alike", () => {
  const { priors } = alikePriors(CASES, SPOT, "as they are");
  const changed = (id: string): number => priors[id]?.value ?? Number.NaN;

  test("each fault that was set as often as any other, by its right answers", () => {
    expect(priorOf(A)).not.toBeCloseTo(priorOf(B), 3);
    expect(changed(A)).toBeCloseTo(changed(B), 12);
    expect(changed(CD)).toBeCloseTo(2 * changed(A), 12);
    expect(changed(E1) + changed(E2)).toBeCloseTo(changed(A), 12);
  });

  test("together as often as before, and what was not set stays as it is, or is hardly expected", () => {
    const set = [A, B, CD, E1, E2];
    const sum = (of: (id: string) => number) => set.reduce((whole, id) => whole + of(id), 0);
    expect(sum(changed)).toBeCloseTo(sum(priorOf), 12);
    expect(Object.keys(priors).toSorted()).toEqual(set.toSorted());
    const others = Object.entries(alikePriors(CASES, SPOT, "hardly any").priors).filter(
      ([id]) => !set.some((one) => one === id),
    );
    expect(others.length).toBe([...PRIORS.keys()].filter((id) => !isStranger(id)).length - set.length);
    expect(Math.max(...others.map(([, { value }]) => value))).toBeLessThan(1e-6);
  });

  test("where nothing was watched the model then believes as much in each of them", () => {
    const [first] = rankedBy(alikePriors(CASES.slice(0, 3), SPOT, "hardly any"), CASES.slice(0, 1), SPOT);
    const believed = (id: string) => first?.ranked.find((one) => one.id === id)?.probability;
    expect(believed(A)).toBe(believed(B));
    const [usual] = rankedBy(NOTHING_LEARNED, CASES.slice(0, 1), SPOT);
    expect(usual?.ranked.map(({ id }) => id)).not.toContain(B);
  });

  test("runs are ranked anew under each, from the planned steps alone", () => {
    const shut: Observation = {
      routine: "sweep",
      functions: fittedOf(SPOT).filter((one) => one.function === "Iris"),
      result: "fail",
      symptoms: [{ symptom: "not-round", function: "Iris" }],
      watched: "attended",
      litMinutes: 2,
      attitude: "standing",
    };
    const added: Observation = { ...shut, symptoms: [{ symptom: "grinds", function: "Iris" }] };
    const one = { ...tried("f", ["iris-leaf-bent"], [A]), observations: [shut] };
    const distance = distanceOf([one], SPOT);
    expect(distance.onlySet.first).toMatchObject({ right: 1, of: 1 });
    expect(distanceOf([{ ...one, observations: [shut, added], followUps: 1 }], SPOT)).toEqual(distance);
  });
});

describe("weighted by how often each fault comes back", () => {
  test("its share counts by the prior of its right answer, which several may have to share (worked)", () => {
    const [a, b, cd, e] = [priorOf(A), priorOf(B), priorOf(CD), priorOf(E1) + priorOf(E2)];
    const whole = a + b + cd + e;
    expect(asMet(CASES, SPOT).first).toBeCloseTo((a / 2 + cd / 2 + e) / whole, 12);
    expect(asMet(CASES, SPOT).firstThree).toBeCloseTo((a + cd + e) / whole, 12);
  });

  test("how often a fault was run does not matter", () => {
    const more = [...CASES, ...CASES.slice(0, 2), ...CASES.slice(0, 2)];
    expect(asMet(more, SPOT)).toEqual(asMet(CASES, SPOT));
  });
});

test("both are told in words and as rows", () => {
  const explained = [distanceOf(CASES, SPOT), asMet(CASES, SPOT), { first: 0.5, firstThree: 0.75 }] as const;
  const words = tellDistance(...explained);
  expect(words).toMatch(/all faults that were set expected alike +first \d of 6, in the first three \d of 6/);
  expect(words).toMatch(/naive Bayes, to which all faults are alike +first 50 %, in the first three 75 %/);
  expect(words).toContain("simulated");
  const rows = distanceRows(...explained);
  expect(rows.map(({ alternative }) => alternative).slice(-2)).toEqual([50, 75]);
  expect(new Set(rows.map(({ name }) => name)).size).toBe(6);
});
