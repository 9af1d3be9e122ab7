import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Moved, predicted, type Setting, whatMoved } from "../../../src/data/rack/what-moved.ts";
import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import { shippedProfile } from "../../kit/shipped.ts";

const long = shippedProfile("spot-16bit");
const short = shippedProfile("spot-8bit");

/** Asks what is proposed and answers as a fixture with this setting would, until it is settled or nothing is left to ask. */
const dialogue = (truth: Setting, address = 101) => {
  const answers: Moved[] = [];
  for (let asked: FunctionId | undefined = "Pan"; asked !== undefined; ) {
    answers.push({ asked, moved: predicted(long, truth, asked)[0] ?? "nothing" });
    asked = whatMoved(long, [short], address, answers).ask;
  }
  return { answers, ...whatMoved(long, [short], address, answers) };
};

describe("three worked cases", () => {
  test("off by one: tilt's fine slot still drives tilt, cyan's slot works the shutter, the dimmer's only tilt's fine slot", () => {
    const answers: readonly Moved[] = [
      { asked: "Tilt", moved: "Tilt" },
      { asked: "ColorSub_C", moved: "Shutter1" },
      { asked: "Dimmer", moved: "nothing" },
    ];
    const { settled } = whatMoved(long, [short], 101, answers);
    expect(settled?.words).toBe("its address is off by one: it stands at 102, not 101");
  });

  test("it stands at an address further on: cyan's slot drives pan, magenta's only pan's fine slot", () => {
    const answers: readonly Moved[] = [
      { asked: "Pan", moved: "nothing" },
      { asked: "ColorSub_C", moved: "Pan" },
      { asked: "ColorSub_M", moved: "nothing" },
    ];
    expect(whatMoved(long, [short], 101, answers).settled?.words).toBe("it stands at address 107, not 101");
  });

  test("another mode with a shifted slot map: tilt's coarse slot is the shutter there, the shutter's is magenta", () => {
    const answers: readonly Moved[] = [
      { asked: "Tilt", moved: "Shutter1" },
      { asked: "Shutter1", moved: "ColorSub_M" },
    ];
    expect(whatMoved(long, [short], 101, answers).settled?.words).toBe(
      "it is in another mode: Spot, 8-bit mode, 20 slots",
    );
  });
});

test("where two explanations fit it cannot be said yet, and the next question tells them apart", () => {
  const { settled, explanations, ask } = whatMoved(long, [short], 101, [{ asked: "Pan", moved: "nothing" }]);
  expect(settled).toBeUndefined();
  expect(explanations.length).toBeGreaterThan(1);
  expect(ask).toBeDefined();
});

test("when nothing moves whatever is asked, it hears nothing or stands out of reach: never settled by guessing an address", () => {
  const { settled, explanations } = dialogue({ kind: "no-data" });
  expect(explanations[0]?.setting.kind).toBe("no-data");
  expect(settled === undefined || settled.setting.kind === "no-data").toBe(true);
});

test.each<{ truth: Setting; because: string }>([
  { truth: { kind: "as-set" }, because: "what is asked moves" },
  { truth: { kind: "swapped-axes" }, because: "pan asked moves tilt" },
  { truth: { kind: "address", offset: 1 }, because: "one further on" },
  { truth: { kind: "address", offset: -1 }, because: "one before" },
  { truth: { kind: "mode", profile: short, offset: 0 }, because: "the short mode" },
])("asking on finds the setting: $because", ({ truth }) => {
  expect(dialogue(truth).settled?.setting).toEqual(truth);
});

test("whatever the setting in reach, the truth is never ruled out and nothing else is settled", () => {
  const truths: fc.Arbitrary<Setting> = fc.oneof(
    fc
      .integer({ min: -29, max: 29 })
      .filter((offset) => offset !== 0)
      .map((offset): Setting => ({ kind: "address", offset })),
    fc.integer({ min: -19, max: 29 }).map((offset): Setting => ({ kind: "mode", profile: short, offset })),
  );
  fc.assert(
    fc.property(truths, (truth) => {
      const { settled, explanations } = dialogue(truth);
      expect(explanations.map(({ setting }) => setting)).toContainEqual(truth);
      if (settled && predicted(long, truth, "Pan").length > 0) expect(settled.setting).toEqual(truth);
    }),
    { numRuns: 60 },
  );
});

test("an address before the first slot is no explanation", () => {
  const { explanations } = whatMoved(long, [short], 1, []);
  expect(explanations.every(({ setting }) => !("offset" in setting) || 1 + setting.offset >= 1)).toBe(true);
});

test("what every cell of a function hears counts: four slots on, one pixel's red is the dimmer's slot", () => {
  const pixels = shippedProfile("led-pixels");
  expect(predicted(pixels, { kind: "address", offset: 4 }, "ColorAdd_R")).toEqual(["Dimmer", "ColorAdd_R"]);
  expect(predicted(pixels, { kind: "address", offset: -4 }, "ColorAdd_R")).toEqual(["ColorAdd_R", "Control1"]);
});

test("beliefs sum to one", () => {
  const { explanations } = whatMoved(long, [short], 101, []);
  expect(explanations.reduce((sum, { belief }) => sum + belief, 0)).toBeCloseTo(1, 12);
});
