import { describe, expect, test } from "vitest";
import { fittedOf } from "../../src/data/profile/profile.ts";
import { mechanismsOf } from "../../src/diagnosis/model/network.ts";
import { cleanPlanFor, cleanPlanInWords } from "../../src/reports/clean-plan.ts";
import { shippedProfile } from "../kit/shipped.ts";

const SPOT = mechanismsOf(fittedOf(shippedProfile("spot-16bit")));
const pads = (grime: Parameters<typeof cleanPlanFor>[3], fixtures = 1) =>
  cleanPlanFor("spot", SPOT, fixtures, grime).pads;
const WORDS = cleanPlanInWords([cleanPlanFor("spot", SPOT, 1, "ordinary")]).join("\n");

/** Common practice, no source. */
describe("a cleaning plan", () => {
  test("one pad for the flags, one for colour wheel and gobos, two for the inner lenses, the front lens a pad of its own", () => {
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

  test("half pads are cut from whole ones: two fixtures with light grime share", () => {
    expect(pads("light")).toBe(4);
    expect(pads("light", 2)).toBe(7);
  });

  test("residue takes more pads, and what scratches takes the most and is not rubbed", () => {
    expect(pads("heavy")).toBe(12);
    expect(pads("pyrotechnic")).toBe(18);
    expect(cleanPlanInWords([cleanPlanFor("spot", SPOT, 1, "pyrotechnic")]).join()).toContain(
      "no rubbing, it scratches",
    );
  });

  test("each cover is opened once for each fixture", () => {
    const one = cleanPlanFor("spot", SPOT, 1, "ordinary");
    expect(one.minutes).toBe(5 + 4 + 5 + 2 + 2 + 5 + 2 + 3);
    expect(cleanPlanFor("spot", SPOT, 8, "ordinary").minutes).toBe(8 * one.minutes);
  });

  test.each([
    ["gauze", "lint-free sterile gauze"],
    ["on the pad, never on the optic", "wet the pad, never the glass"],
    ["straight lines, one direction, never circles", "one direction in straight lines, never in circles"],
    ["a dry pad the same way for residue", "then a dry pad the same way"],
    ["both sides of a pad", "both sides are used"],
    ["wet, not dripping", "not so much that it drips"],
    ["air only when time forces it", "compressed air only when time forces it"],
    ["fans held", "a fan spun by air drives current back into the electronics: hold every fan still"],
    ["it burns; ventilate", "burn and their vapour is heavier than air: ventilate"],
    ["evaporated before power", "let it evaporate before power returns"],
    ["isolated before covers", "isolated and locked off"],
  ])("says: %s", (_, words) => {
    expect(WORDS).toContain(words);
  });

  test("only what is fitted: a wash without wheels has no pad for them", () => {
    const wash = cleanPlanFor("wash", mechanismsOf(fittedOf(shippedProfile("led-wash"))), 1, "ordinary");
    expect(wash.steps.map(({ cleaning }) => cleaning)).not.toContain("wheels");
  });
});
