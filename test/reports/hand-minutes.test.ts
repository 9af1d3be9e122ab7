import { describe, expect, test } from "vitest";
import { fittedOf } from "../../src/data/profile/profile.ts";
import { parseSequence } from "../../src/data/sequence/parse.ts";
import { mechanismsOf } from "../../src/diagnosis/model/places.ts";
import { cleaningsOf } from "../../src/domain/trade/cleanings.ts";
import { compile } from "../../src/plan/compile.ts";
import { planOf } from "../../src/plan/timeline.ts";
import { allOf, handMinutes, minutesInWords } from "../../src/reports/hand-minutes.ts";
import { must, shippedBench, shippedProfile, shippedSequence } from "../kit/shipped.ts";

const PROFILE = shippedProfile("spot-16bit");
const SPOT = mechanismsOf(fittedOf(PROFILE));
const CHECK_IN = shippedSequence("check-in");
const of = (...steps: readonly string[]) =>
  must(parseSequence("t.yaml", `sequence: t\ntitle: T\nsteps:\n${steps.map((one) => `  - ${one}\n`).join("")}`));

/** Common practice, no source: minutes of the trade's lists, each cover off and on once. */
describe("minutes by hand", () => {
  test("each cover is counted once, however much is done behind it", () => {
    const one = handMinutes(of("inspect: [capacitors]", "power-up: fixture"), SPOT, "ordinary");
    const two = handMinutes(of("inspect: [capacitors, power-links]", "power-up: fixture"), SPOT, "ordinary");
    expect([one.covers, two.covers]).toEqual([4, 4]);
    expect(two.inspecting).toBeGreaterThan(one.inspecting);
  });

  test("what is measured is not inspected as well", () => {
    const looked = handMinutes(of("inspect: due", "power-up: fixture"), SPOT, "ordinary");
    const measured = handMinutes(
      of("inspect: due", "reading: earth-continuity", "power-up: fixture"),
      SPOT,
      "ordinary",
    );
    expect(looked.inspecting - measured.inspecting).toBeCloseTo(1.5, 6);
    expect(measured.measuring).toBe(2);
  });

  test("more dirt takes longer, and dust only the least", () => {
    const minutes = (["light", "ordinary", "heavy", "pyrotechnic"] as const).map(
      (dirt) => handMinutes(CHECK_IN, SPOT, dirt).cleaning,
    );
    expect(minutes).toEqual([...minutes].sort((a, b) => a - b));
    expect(new Set(minutes).size).toBe(4);
    expect(cleaningsOf(SPOT)).toHaveLength(7);
  });

  test("a sequence without work by hand says nothing of it", () => {
    const none = handMinutes(shippedSequence("quick"), SPOT, "ordinary");
    expect(allOf(none)).toBe(0);
    expect(minutesInWords({ total: 100, watched: 100 }, none, none)).toEqual([]);
  });
});

test("the plan of a check-in of a spot tells driven, hand work and soak; what nobody stands by for is told apart from a person's own time", () => {
  const plan = planOf(compile(PROFILE, CHECK_IN, shippedBench()));
  const [ordinary, dust] = [handMinutes(CHECK_IN, SPOT, "ordinary"), handMinutes(CHECK_IN, SPOT, "light")];
  expect(minutesInWords(plan, ordinary, dust)).toMatchInlineSnapshot(`
    [
      "By hand about 62 min: inspecting 17, covers 12, cleaning 25, measuring 6, confirming 3; about 46 min when it came back with dust only.",
      "In all about 87 min, 71 with dust only. 20 min of it nobody stands by: time for paper work, so your own time is 67, 51 with dust only.",
      "Cooling down and stored charge come on top, as the maker's manual says; so does whatever is wrong with it.",
    ]
  `);
  expect(plan.watched / 60 + allOf(dust)).toBeLessThan(65);
});
