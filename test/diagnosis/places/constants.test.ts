import { expect, test } from "vitest";
import { assess } from "../../../src/diagnosis/places/assessment.ts";
import { UNKNOWN } from "../../../src/diagnosis/places/beliefs.ts";
import { constantsFrom, type DelaySample, delaySample } from "../../../src/diagnosis/places/constants.ts";
import { meanReaction } from "../../../src/diagnosis/places/delay.ts";
import { personWords, quicknessOf, unknownsOf } from "../../../src/diagnosis/places/known.ts";
import { USUAL_QUICKNESS } from "../../../src/diagnosis/places/stopwatch.ts";
import { stepOf } from "./kit/rig.ts";
import { KEEN, watched } from "./kit/session.ts";

const FULL = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
const sample = (person: string, profile: string, delay: number, presses: number, crossings = presses): DelaySample => ({
  person,
  profile,
  speed: 60,
  delay,
  presses,
  crossings,
  lag: 0.3,
});

test("a settled place gives a sample of a person's delay; anything else gives none", () => {
  const found = assess(watched([FULL], { kind: "position", place: 90 }, { ...KEEN, slowness: 0.1 }))!;
  const one = delaySample("ab", "spot-16bit", found);
  expect(one).toMatchObject({ person: "ab", profile: "spot-16bit", speed: 60, presses: 10, crossings: 10, lag: 0.3 });
  expect(Math.abs(one!.delay - 0.8)).toBeLessThan(0.1);
  const end = assess(watched([FULL], { kind: "ends", low: true, high: false }, KEEN))!;
  expect(delaySample("ab", "spot-16bit", end)).toBeUndefined();
});

test("one person at one fixture: what is beyond the profile's lag is the person's", () => {
  const { people, lags } = constantsFrom([sample("ab", "spot", 0.75, 40, 50)]);
  expect(people[0]).toMatchObject({ person: "ab", presses: 40, enough: true });
  expect(people[0]?.reaction).toBeCloseTo(0.45, 9);
  expect(people[0]?.missed).toMatchObject({ hits: 10, of: 50 });
  expect(lags[0]).toMatchObject({ lag: 0.3, people: 1, enough: false });
});

test("several people late at one fixture and not at others: that fixture lags more than its profile says", () => {
  const people = ["ab", "cd", "ef"];
  const samples = people.flatMap((person, i) => [
    sample(person, "late", 0.9 + 0.05 * i, 200),
    ...["a", "b", "c", "d"].map((profile) => sample(person, profile, 0.7 + 0.05 * i, 200)),
  ]);
  const { lags, people: known } = constantsFrom(samples);
  const lagOf = (profile: string) => lags.find((one) => one.profile === profile)!;
  expect(lagOf("late").enough).toBe(true);
  // Only the sum is seen: differences between fixtures and between people are sure, their common level is the profiles' word.
  expect(lagOf("late").lag - lagOf("a").lag).toBeCloseTo(0.2, 1);
  expect(known[2]!.reaction - known[0]!.reaction).toBeCloseTo(0.1, 6);
});

test("too few presses are shown and not used", () => {
  const [person] = constantsFrom([sample("ab", "spot", 0.95, 12)]).people;
  expect(person?.enough).toBe(false);
  expect(unknownsOf(person)).toBe(UNKNOWN);
  expect(quicknessOf(person)).toBe(USUAL_QUICKNESS);
  expect(personWords(person!)).toBe(
    "presses after 0.65 s (12 presses), misses 0 of 12 (0 to 24 %): too few yet, the usual values are used",
  );
});

test("with enough presses a person's own reaction and misses are used", () => {
  const [person] = constantsFrom([sample("ab", "spot", 0.95, 60, 80)]).people;
  const unknowns = unknownsOf(person);
  expect(meanReaction(unknowns.reaction)).toBeCloseTo(0.65, 9);
  expect(unknowns.caught.every((caught) => caught > 0.6 && caught < 0.9)).toBe(true);
  expect(quicknessOf(person).mean).toBeCloseTo(0.65, 9);
  expect(personWords(person!)).toBe("presses after 0.65 s (60 presses), misses 20 of 80 (17 to 35 %)");
});

test("a slow person's one-way place is nearer the truth with their own reaction than with the usual one", () => {
  const slow = { ...KEEN, slowness: 0.35 };
  const watches = watched([FULL], { kind: "one-way", place: -40, way: "down" }, slow);
  const [person] = constantsFrom([sample("ab", "spot", 1.05, 200)]).people;
  const off = (at: number | undefined) => Math.abs((at ?? 999) + 40);
  const usual = assess(watches)?.beliefs[0]?.place;
  const own = assess(watches, unknownsOf(person))?.beliefs[0]?.place;
  expect(off(own?.at)).toBeLessThan(off(usual?.at));
  expect(own!.high - own!.low).toBeLessThan(usual!.high - usual!.low);
});
