import { describe, expect, test } from "vitest";
import { evidenceFrom } from "../../../src/diagnosis/model/evidence.ts";
import { type LayeredNetwork, marginals } from "../../../src/diagnosis/model/layers.ts";
import { networkFor } from "../../../src/diagnosis/model/network.ts";
import type { Observation } from "../../../src/diagnosis/model/observation.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { SPOT } from "./spot.ts";

const part = (...ids: readonly string[]) => SPOT.filter(({ function: id }) => ids.includes(id));
const step = (changes: Partial<Observation>): Observation => ({
  routine: "sweep",
  functions: part("Pan"),
  result: "pass",
  symptoms: [],
  watched: "attended",
  litMinutes: 3,
  attitude: "standing",
  ...changes,
});
const chance = (fault: string, ...observations: readonly Observation[]) =>
  rank(SPOT, observations).faults.find(({ id }) => id === fault)!.probability;

describe("a symptom reported anywhere is there", () => {
  const jerk = step({ result: "fail", symptoms: [{ symptom: "jerks", function: "Pan" }] });

  test("whatever passed before and after", () => {
    const { evidence } = evidenceFrom(SPOT, [step({}), jerk, step({}), step({ routine: "snap" })], []);
    expect(evidence.present).toEqual(["pan-drive/jerks"]);
    expect(evidence.absent).not.toContain("pan-drive/jerks");
  });

  test("warm after passing cold, it speaks for what needs the heat", () => {
    const flags = part("ColorSub_C");
    const stuck = {
      functions: flags,
      result: "fail",
      symptoms: [{ symptom: "stalls", function: "ColorSub_C" }],
    } as const;
    const cold = chance("flag-binds-warm", step({ ...stuck, litMinutes: 1 }));
    const warm = chance(
      "flag-binds-warm",
      step({ functions: flags, litMinutes: 1 }),
      step({ ...stuck, litMinutes: 25 }),
    );
    expect(warm).toBeGreaterThan(2 * cold);
  });

  test("seen twice, it is less likely to have been imagined", () => {
    const twice = rank(SPOT, [jerk, { ...jerk, routine: "snap" }]).nothingBroken;
    expect(twice).toBeLessThan(rank(SPOT, [jerk]).nothingBroken);
  });

  test("without a function it belongs to the one mechanism that moved and can show it", () => {
    const nameless = step({
      functions: part("Iris"),
      result: "fail",
      symptoms: [{ symptom: "grinds", function: undefined }],
    });
    expect(evidenceFrom(SPOT, [nameless], []).evidence.present).toEqual(["iris/grinds"]);
  });

  test("a step of the whole fixture that reported it is not also a step that missed it", () => {
    const home = step({
      routine: "home",
      functions: [],
      result: "fail",
      symptoms: [{ symptom: "keeps-homing", function: "Pan" }],
    });
    const { network } = evidenceFrom(SPOT, [home], []);
    // Judged alone, one report leaves link and leak as they are.
    const at = (one: LayeredNetwork) => ({
      leak: one.symptoms.find(({ id }) => id === "pan-drive/keeps-homing")!.leak,
      link: marginals(one.faults.find(({ id }) => id === "pan-encoder-dirty")!).get("pan-drive/keeps-homing"),
    });
    expect(at(network)).toEqual(at(networkFor(SPOT)));
  });

  test("a fail without a word adds nothing where another step found the words", () => {
    const silent = step({ functions: part("Iris"), result: "fail" });
    const named = { ...silent, symptoms: [{ symptom: "grinds", function: "Iris" }] } as const;
    expect(evidenceFrom(SPOT, [silent], []).evidence.present).toEqual(["iris/unnamed"]);
    expect(evidenceFrom(SPOT, [silent, named], []).evidence.present).toEqual(["iris/grinds"]);
  });

  test("but not when the rig itself misbehaved in that step", () => {
    expect(evidenceFrom(SPOT, [{ ...jerk, result: "repeat" }], []).evidence.present).toEqual([]);
  });

  test("a fail without a word makes that mechanism suspect", () => {
    expect(chance("iris-leaf-bent", step({ functions: part("Iris"), result: "fail" }))).toBeGreaterThan(0.1);
  });
});
