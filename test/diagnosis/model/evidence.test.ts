import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { evidenceFrom } from "../../../src/diagnosis/model/evidence.ts";
import { marginals } from "../../../src/diagnosis/model/layers.ts";
import type { Observation } from "../../../src/diagnosis/model/observation.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import { STEP_RESULTS } from "../../../src/domain/trade/routines.ts";
import { runWith, SPOT } from "./spot.ts";

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
const denied = (...observations: readonly Observation[]) => evidenceFrom(SPOT, observations, []).evidence.absent;

describe("a pass speaks only against what it could have shown", () => {
  test.each([
    ["pan-drive/jerks", step({}), true, "pan was watched moving"],
    ["tilt-drive/jerks", step({}), false, "tilt did not move"],
    ["fixture/flickers", step({}), false, "the shutter was closed"],
    ["fixture/error-shown", step({}), true, "an error would have been seen"],
    ["pan-drive/side-differs", step({ routine: "step-through" }), false, "only two sides show it"],
    [
      "rotating-gobo-wheel/wobbles",
      step({ functions: part("Gobo1"), routine: "in-and-out" }),
      true,
      "it turned a little",
    ],
    ["rotating-gobo-wheel/wobbles", step({ functions: part("Gobo1"), routine: "snap" }), false, "it did not turn"],
    ["iris/grinds", step({ functions: [], routine: "power-up" }), true, "everything moves at power-up"],
  ])("%s", (finding, observation, expected, because) => {
    expect([denied(observation).includes(finding), because]).toEqual([expected, because]);
  });

  test.each(STEP_RESULTS.filter((result) => !["pass", "fail", "unsure"].includes(result)))(
    "a step that is %s says nothing",
    (result) => {
      expect(evidenceFrom(SPOT, [step({ result })], []).evidence).toEqual({ present: [], absent: [] });
    },
  );

  test("nobody watched: nothing said", () => {
    expect(denied(step({ watched: "no" }))).toEqual([]);
  });
});

test("a mover's own symptom is denied at the mover, not a second time for the fixture as a whole", () => {
  const { network, evidence } = evidenceFrom(SPOT, runWith({}), []);
  const link = (fault: string) => marginals(network.faults.find(({ id }) => id === fault)!).get("fixture/rattles") ?? 0;
  expect(evidence.absent).toEqual(expect.arrayContaining(["fixture/rattles", "pan-drive/rattles"]));
  expect(link("hardware-loose")).toBeGreaterThan(0);
});

describe("what cannot be judged does not speak against anything", () => {
  const still = step({ result: "fail", symptoms: [{ symptom: "no-move", function: "Pan" }] });

  test("of what stands still nobody sees whether it is slow; whether its motor works against a hold is heard", () => {
    expect(denied(step({}))).toEqual(expect.arrayContaining(["pan-drive/grinds", "pan-drive/slow"]));
    expect(denied(step({}), still).filter((id) => id.startsWith("pan-drive/"))).toEqual([
      "pan-drive/grinds",
      "pan-drive/trembles",
      "pan-drive/whines",
    ]);
  });

  test("a light that never came is not a watched pass of the iris", () => {
    const strike = step({
      routine: "power-up",
      functions: [],
      result: "fail",
      symptoms: [{ symptom: "no-strike", function: undefined }],
    });
    const iris = step({ functions: part("Iris") });
    expect(denied(iris)).toContain("iris/not-round");
    expect(denied(strike, iris)).not.toContain("iris/not-round");
    expect(denied(strike, iris)).toContain("iris/grinds");
  });

  test("nor is anything after everything went dead", () => {
    const dead = step({ result: "fail", symptoms: [{ symptom: "went-dead", function: undefined }] });
    expect(denied(dead, step({ functions: part("Iris") })).filter((id) => id.startsWith("iris/"))).toEqual([]);
  });
});

test("cyan late and magenta not is one flag: each flag is denied by itself", () => {
  const late = step({
    functions: part("ColorSub_C"),
    result: "fail",
    symptoms: [{ symptom: "late-flag", function: "ColorSub_C" }],
  });
  const { evidence } = evidenceFrom(SPOT, [late, step({ functions: part("ColorSub_M") })], []);
  expect(evidence.present).toEqual(["colour-flags ColorSub_C/late-flag"]);
  expect(evidence.absent).toContain("colour-flags ColorSub_M/late-flag");
});

describe("how much a pass weighs", () => {
  const before = chance("pan-encoder-dirty");
  const belief = (changes: Partial<Observation>, times = 1) =>
    chance("pan-encoder-dirty", ...Array.from({ length: times }, () => step(changes)));

  test("an attended pass more than silence in hands-off mode, and that more than nothing", () => {
    expect(belief({})).toBeLessThan(belief({ watched: "confirmed" }));
    expect(belief({ watched: "confirmed" })).toBeLessThan(before);
  });

  test("unsure hardly at all against, and a little for", () => {
    expect(belief({ result: "unsure" })).toBeGreaterThan(belief({}));
    expect(belief({ result: "unsure" })).toBeLessThan(belief({ result: "fail" }));
    expect(belief({ result: "unsure" })).toBeGreaterThan(before);
  });

  test.each([
    ["no-strike", "lamp-worn", "nobody imagines that there is no light: half a report of it is worth a look"],
    ["fan-still", "fan-dead", "nor that a fan stands"],
  ] as const)(
    "somebody unsure about %s speaks for %s several times over, though less than a report: %s",
    (symptom, fault, _because) => {
      const seen = (result: "unsure" | "fail") =>
        chance(fault, step({ functions: [], result, symptoms: [{ symptom, function: undefined }] }));
      expect(seen("unsure")).toBeGreaterThan(4 * chance(fault));
      expect(seen("unsure")).toBeLessThan(seen("fail"));
    },
  );

  test("more passes see more of a fault that comes and goes", () => {
    const loom = (times: number) => chance("loom-drag", ...Array.from({ length: times }, () => step({})));
    const tired = (times: number) => chance("loom-tired", ...Array.from({ length: times }, () => step({})));
    expect([tired(1), tired(4), tired(16)]).toEqual([tired(1), tired(4), tired(16)].sort((a, b) => b - a));
    // One pass settles most of what a constant fault has to say, of one that comes and goes much is left.
    expect(loom(1) / loom(16)).toBeLessThan(tired(1) / tired(16) + 1);
  });

  test("passing cyan alone does not clear all flags", () => {
    const flags = (...ids: readonly string[]) =>
      chance("flag-sticks", ...ids.map((id) => step({ functions: part(id) })));
    expect(flags("ColorSub_C")).toBeGreaterThan(2 * flags("ColorSub_C", "ColorSub_M", "ColorSub_Y", "CTO"));
  });

  test("a cold pass hardly clears a fault that needs the heat", () => {
    const flags = { functions: part("ColorSub_C", "ColorSub_M", "ColorSub_Y") };
    const cold = chance("flag-binds-warm", step({ ...flags, litMinutes: 1 }));
    const warm = chance("flag-binds-warm", step({ ...flags, litMinutes: 25 }));
    expect(warm).toBeLessThan(0.6 * cold);
  });
});

test("looks by hand enter the same way: good clears, bad blames, unsure a little, not asked nothing", () => {
  const answer = (given: "good" | "bad" | "unsure" | "not-asked") =>
    rank(SPOT, [], [{ inspection: "pan-belt-tension", answer: given }]).faults.find(
      ({ id }) => id === "pan-belt-slack",
    )!.probability;
  expect(answer("not-asked")).toBeCloseTo(0.025, 12);
  expect(answer("good")).toBeLessThan(0.005);
  expect(answer("unsure")).toBeGreaterThan(0.03);
  expect(answer("bad")).toBeGreaterThan(0.5);
});

test("the order of the steps does not change the ranking", () => {
  const run = runWith({ "sweep Iris": ["jerks"], "snap Pan": ["swings-on"], "rotate Gobo1Pos": ["wobbles"] });
  const straight = rank(SPOT, run);
  fc.assert(
    fc.property(fc.shuffledSubarray([...run], { minLength: run.length }), (shuffled) => {
      const turned = rank(SPOT, shuffled);
      expect(turned.nothingBroken).toBeCloseTo(straight.nothingBroken, 12);
      for (const { id, probability } of straight.faults)
        expect(turned.faults.find((one) => one.id === id)!.probability).toBeCloseTo(probability, 10);
    }),
    { numRuns: 10 },
  );
});
