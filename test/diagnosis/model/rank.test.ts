import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { InspectionAnswer } from "../../../src/diagnosis/model/observation.ts";
import { rank } from "../../../src/diagnosis/model/rank.ts";
import type { SymptomId } from "../../../src/domain/trade/symptoms.ts";
import { runWith, SPOT } from "./spot.ts";

describe("a run without a symptom", () => {
  test("ranks nothing broken first, with its exact share among the rest", () => {
    const { faults, nothingBroken } = rank(SPOT, runWith({}));
    expect(faults[0]).toMatchObject({ id: "nothing-broken", title: "nothing broken", belief: "most likely" });
    expect(faults[0]!.probability).toBe(nothingBroken);
  });

  test("before anything was watched nothing is settled", () => {
    expect(rank(SPOT, []).nothingBroken).toBeLessThan(0.5);
    expect(rank(SPOT, []).faults.find(({ id }) => id === "iris-leaf-bent")!.probability).toBeCloseTo(0.02, 12);
  });
});

test("what is common and shows nothing of the kind is not named for it, but stands there while nothing is reported", () => {
  const of = (seen: Parameters<typeof runWith>[0], id: string) =>
    rank(SPOT, runWith(seen)).faults.find((one) => one.id === id)!.probability;
  expect(of({}, "settings-changed")).toBeGreaterThan(0.02);
  expect(of({ "sweep Iris": ["not-round"] }, "settings-changed")).toBeLessThan(0.002);
  expect(of({ "sweep Iris": ["not-round"] }, "lens-grime")).toBeLessThan(0.002);
});

test("the list falls, and every probability is one", () => {
  fc.assert(
    fc.property(
      fc.subarray(["sweep Iris", "sweep Zoom", "snap Pan", "sweep Tilt", "rotate Gobo1Pos", "return fixture"] as const),
      fc.subarray(["jerks", "grinds", "moved-after", "no-move", "rattles"] as const, { minLength: 1 }),
      (steps, symptoms) => {
        const { faults } = rank(SPOT, runWith(Object.fromEntries(steps.map((step) => [step, symptoms]))));
        const falling = faults.map(({ probability }) => probability);
        expect(falling).toEqual([...falling].sort((a, b) => b - a));
        for (const value of falling) expect(value >= 0 && value <= 1).toBe(true);
      },
    ),
    { numRuns: 15 },
  );
});

describe("why, in plain words", () => {
  const reasons = (id: string, seen: Parameters<typeof runWith>[0]) => {
    const one = rank(SPOT, runWith(seen)).faults.find((fault) => fault.id === id)!;
    return { because: one.because, against: one.against };
  };

  test.each<[string, Parameters<typeof runWith>[0], string]>([
    ["flag-sticks", { "sweep ColorSub_C": ["stalls"] }, "cyan sticks on the way"],
    ["data-line", { "sweep ColorSub_C": ["stalls"], "sweep ColorSub_M": ["stalls"] }, "magenta sticks on the way"],
    ["iris-leaf-bent", { "sweep Iris": ["not-round"] }, "iris: opening is not round"],
    ["supply-weak", { "shake Pan": ["reset-itself"] }, "reset itself, while pan moved"],
    ["lens-grime", { "hold Focus1": ["veil"] }, "halo or veil round the picture"],
    ["address-or-mode", { "identify Pan": ["wrong-thing"] }, "pan: something else moves instead"],
    ["zoom-belt-slack", { "return fixture": ["moved-after"] }, "something is not where it was before"],
  ])("%s", (id, seen, words) => {
    expect(reasons(id, seen).because).toContain(words);
  });

  test("what should have shown and did not speaks against", () => {
    expect(reasons("pan-belt-slack", {}).against).toEqual(
      expect.arrayContaining([
        "not reported on the pan drive: swings on after the stop",
        "not reported on the pan drive: stops in two places, depending on the side it comes from",
      ]),
    );
  });

  test("nothing broken has all that was reported against it", () => {
    expect(reasons("nothing-broken", { "sweep Iris": ["grinds"] })).toEqual({
      because: [],
      against: ["iris scrapes or grinds"],
    });
  });

  test("no word of statistics reaches the screen", () => {
    const everything = JSON.stringify(rank(SPOT, runWith({ "sweep Iris": ["grinds"] }), LOOKS));
    expect(everything).not.toMatch(/posterior|prior\b|leak\b|noisy|bayes|evidence|likelihood|inference|d-prime/i);
  });
});

const LOOKS: readonly InspectionAnswer[] = [
  { inspection: "pan-belt-edges", answer: "bad" },
  { inspection: "tilt-belt-edges", answer: "unsure" },
];

test("looks by hand are told as what was looked at and what was seen", () => {
  const { faults } = rank(SPOT, runWith({}), LOOKS);
  const reasons = (id: string) => faults.find((one) => one.id === id)!.because;
  expect(reasons("pan-tension-wheel")).toContain("pan belt edges: frayed, or rubber dust below");
  expect(reasons("tilt-tension-wheel")).toContain("tilt belt edges: not sure");
});

describe("a danger to people is never outranked into silence", () => {
  const dangers = ["insulation-worn", "earth-broken", "capacitor-bulged"];
  const busy = runWith({ "sweep Iris": ["grinds", "not-round"], "snap Pan": ["swings-on"], "sweep Zoom": ["jerks"] });

  test("each is due until its look was answered good", () => {
    expect(rank(SPOT, busy).warnings.map(({ id }) => id)).toEqual(dangers);
    const after = rank(SPOT, busy, [
      { inspection: "yoke-wires", answer: "good" },
      { inspection: "capacitors", answer: "unsure" },
      { inspection: "earth-continuity", answer: "not-asked" },
    ]).warnings;
    expect(after.map(({ id, state }) => [id, state])).toEqual([
      ["earth-broken", "due"],
      ["capacitor-bulged", "due"],
    ]);
  });

  test("found, it takes the fixture out of service", () => {
    const [first] = rank(SPOT, busy, [{ inspection: "yoke-wires", answer: "bad" }]).warnings;
    expect(first!.say).toBe(
      "OUT OF SERVICE: insulation worn where wires enter the yoke; replace the loom, then earth continuity and an electrical safety test by a competent person",
    );
  });

  test("a later answer counts in place of an earlier one", () => {
    const answers = (["bad", "good"] as const).map((answer) => ({ inspection: "capacitors" as const, answer }));
    expect(rank(SPOT, [], answers).warnings.map(({ id }) => id)).not.toContain("capacitor-bulged");
  });
});

test("more symptoms than can be reckoned at once: the least telling are left out and named", () => {
  const kinds: readonly SymptomId[] = ["jerks", "stalls", "slow", "grinds", "rattles"];
  const { leftOut, faults } = rank(
    SPOT,
    runWith({ "sweep Iris": kinds, "sweep Zoom": kinds, "sweep Pan": kinds, "sweep Focus1": kinds }),
  );
  expect(leftOut).toHaveLength(4);
  for (const words of leftOut) expect(words).toMatch(/^(iris|zoom|pan|focus) /);
  expect(faults[0]!.probability).toBeLessThanOrEqual(1);
});

test("what is tested again after mending is only what this fixture has", () => {
  const plug = rank(SPOT, []).faults.find(({ id }) => id === "board-plug-loose")!;
  expect(plug).toMatchObject({ retest: expect.arrayContaining(["pan-drive", "iris"]) });
  expect(plug).not.toMatchObject({ retest: expect.arrayContaining(["framing-blades"]) });
});
