import { expect, test } from "vitest";
import { secondsOf } from "../../../src/domain/units.ts";
import { expectedOf } from "../../../src/run/batch/expected.ts";
import { rackJobOf, spots } from "../../kit/driven-rack.ts";

const PAN = "{ sweep: Pan, seconds: 3, passes: 2 }";
const jobOf = (count: number, more = "") => rackJobOf({ fixtures: spots(count), steps: [PAN], more });
const lengths = (count: number, more = "") => {
  const { plan, members } = jobOf(count, more);
  const { slowStart, opening } = members[0]!.session.job;
  const [step] = opening.steps;
  return { plan, members, slow: secondsOf(slowStart.frames), whole: secondsOf(step!.frames) };
};

test("twelve in two groups take twice what one takes; one by one, twelve times", () => {
  const { plan, members, slow, whole } = lengths(12);
  const { together, oneByOne } = expectedOf(plan, members, 0.25);
  expect(together).toBeCloseTo(2 * (slow + whole), 9);
  expect(oneByOne).toBeCloseTo(12 * (slow + whole), 9);
});

test("fixtures of two kinds that are watched together take as long as the slower of them", () => {
  const washes = [1, 2].map(
    (n) => `{ serial: W${n}, profile: led-wash, shelf: top, place: "w${n}", universe: 1, address: ${400 + 40 * n} }`,
  );
  const steps = ["{ sweep: Tilt, passes: 2 }"];
  const { plan, members } = rackJobOf({ fixtures: [...spots(2), ...washes], steps });
  const lengths = members.map(({ session }) => secondsOf(session.job.opening.steps[0]!.frames));
  expect(new Set(lengths).size).toBe(2);
  expect(plan.turns.map(({ members: watched }) => watched.length)).toEqual([4]);
  const slow = Math.max(...members.map(({ session }) => secondsOf(session.job.slowStart.frames)));
  expect(expectedOf(plan, members, 0).together).toBeCloseTo(slow + Math.max(...lengths), 9);
});

test("groups of one are one by one", () => {
  const { plan, members } = lengths(5, "groups: { broad: 1, fine: 1 }");
  const { together, oneByOne } = expectedOf(plan, members, 0);
  expect(together).toBeCloseTo(oneByOne, 9);
});

/** By hand: of 12 at a quarter, 3 have something; of these .2 or .1 are missed; of the other 9, .1 are pressed for nothing. */
test("whom the groups will send to be looked at alone, and who is missed either way", () => {
  const { plan, members } = lengths(12);
  const { odd, faulty, missed } = expectedOf(plan, members, 0.25);
  expect(faulty).toBeCloseTo(3, 9);
  expect(missed.together).toBeCloseTo(0.6, 9);
  expect(missed.oneByOne).toBeCloseTo(0.3, 9);
  expect(odd).toBeCloseTo(3 - 0.6 + 0.9, 9);
});

test("groups pay as long as few have something, and less the more there are", () => {
  const { plan, members } = lengths(12);
  const totals = [0, 0.1, 0.3, 0.6, 1].map((rate) => expectedOf(plan, members, rate).total);
  expect(totals).toEqual(totals.toSorted((a, b) => a - b));
  const long = rackJobOf({ fixtures: spots(12), steps: [PAN, "{ sweep: Tilt, seconds: 3, passes: 2 }"] });
  expect(expectedOf(long.plan, long.members, 0).total).toBeLessThan(expectedOf(long.plan, long.members, 0).oneByOne);
  expect(totals.at(-1)).toBeGreaterThan(expectedOf(plan, members, 1).oneByOne);
});
