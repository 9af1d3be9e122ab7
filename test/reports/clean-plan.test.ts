import { describe, expect, test } from "vitest";
import { fittedOf } from "../../src/data/profile/profile.ts";
import { mechanismsOf } from "../../src/diagnosis/model/places.ts";
import { cleanPlanFor, cleanPlanInWords } from "../../src/reports/clean-plan.ts";
import { shippedProfile } from "../kit/shipped.ts";

const SPOT = mechanismsOf(fittedOf(shippedProfile("spot-16bit")));
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
