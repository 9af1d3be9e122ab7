import { describe, expect, test } from "vitest";
import { fittedOf } from "../../src/data/profile/profile.ts";
import { parseSequence } from "../../src/data/sequence/parse.ts";
import { mechanismsOf } from "../../src/diagnosis/model/places.ts";
import { cleaningsOf } from "../../src/domain/trade/cleanings.ts";
import { compile } from "../../src/plan/compile.ts";
import { planOf } from "../../src/plan/timeline.ts";
import { allOf, cleanPlanFor, cleanPlanInWords, handMinutes, minutesInWords } from "../../src/reports/hand-work.ts";
import { must, shippedBench, shippedProfile, shippedSequence } from "../kit/shipped.ts";

const PROFILE = shippedProfile("spot-16bit");
const SPOT = mechanismsOf(fittedOf(PROFILE));
const pads = (dirt: Parameters<typeof cleanPlanFor>[3], fixtures = 1) =>
  cleanPlanFor("spot", SPOT, fixtures, dirt).pads;
const WORDS = cleanPlanInWords([cleanPlanFor("spot", SPOT, 1, "ordinary")]).join("\n");

/** Common practice, no source. */
describe("a cleaning plan", () => {
  test("flags one pad, all wheels together one, inner lenses two, the front lens one of its own", () => {
    const { steps } = cleanPlanFor("spot", SPOT, 1, "ordinary");
    expect(steps.map((step) => [step.cleaning, step.pads])).toEqual([
      ["dust", 0],
      ["flags", 1],
      ["wheels", 1],
      ["prism-and-frost", 0.5],
      ["light-pipe", 0.5],
      ["inner-lenses", 2],
      ["front-lens", 1],
    ]);
    expect(pads("ordinary")).toBe(6);
  });

  test("half pads are cut from whole ones: two fixtures with dust only share", () => {
    expect(pads("light")).toBe(2);
    expect(pads("light", 2)).toBe(3);
  });

  test("residue takes more pads, and what scratches takes the most and is not rubbed", () => {
    expect(pads("heavy")).toBe(12);
    expect(pads("pyrotechnic")).toBe(18);
    expect(cleanPlanInWords([cleanPlanFor("spot", SPOT, 1, "pyrotechnic")]).join()).toContain("do not rub");
  });

  test("each cover is opened once for each fixture", () => {
    const one = cleanPlanFor("spot", SPOT, 1, "ordinary");
    expect(one.minutes).toBe(5 + 4 + 5 + 2 + 2 + 5 + 2 + 3);
    expect(cleanPlanFor("spot", SPOT, 8, "ordinary").minutes).toBe(8 * one.minutes);
  });

  test.each([
    ["what a pad is", "lint-free sterile gauze, taken from its sealed pack when it is needed"],
    ["what is no pad", "no paper towel, no shirt or rag"],
    ["where the fluid goes", "fluid on the pad, not on the glass"],
    ["why", "on the glass it runs under the holder and into bearings and sensors"],
    ["how to wipe", "wipe from edge to edge, always the same way"],
    ["how to finish", "then the same with a dry pad"],
    ["both sides of a pad", "use both sides"],
    ["how wet", "the pad is damp, it does not drip"],
    ["air from a can", "air from a can at the wheels"],
    ["fans blocked", "block the blades"],
    ["it burns; ventilate", "burn and their vapour is heavier than air: ventilate"],
    ["dry before power", "no power before all fluid has dried off"],
    ["isolated before covers", "isolated and locked off"],
  ])("says: %s", (_, words) => {
    expect(WORDS).toContain(words);
  });

  test("only what is fitted: a wash without wheels has no pad for them", () => {
    const wash = cleanPlanFor("wash", mechanismsOf(fittedOf(shippedProfile("led-wash"))), 1, "ordinary");
    expect(wash.steps.map(({ cleaning }) => cleaning)).not.toContain("wheels");
  });
});

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
