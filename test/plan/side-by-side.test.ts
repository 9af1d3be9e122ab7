import { expect, test } from "vitest";
import { secondsOf } from "../../src/domain/units.ts";
import { compile, settingAfter } from "../../src/plan/compile.ts";
import { placeAt, rawAt } from "../../src/plan/sample.ts";
import { sequenceOf, shippedBench, shippedProfile } from "../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
const compiled = (step: string) => compile(spot, sequenceOf(step), shippedBench()).steps[0]!;

test("a mix is held at its level, with the beam open", () => {
  const mix = compiled("{ side-by-side: [ColorSub_C, ColorSub_M], at_pct: [50], dwell_s: 5 }");
  for (const id of ["ColorSub_C", "ColorSub_M"] as const) expect(placeAt(spot, mix, id, mix.leadIn)).toBeCloseTo(50, 0);
  expect(mix.beam).toBe("open");
  expect(secondsOf(mix.frames - mix.leadIn)).toBeGreaterThanOrEqual(5);
});

test("several levels are held one after the other", () => {
  const levels = compiled("{ side-by-side: Dimmer, at_pct: [100, 50, 10], dwell_s: 4 }");
  expect(placeAt(spot, levels, "Dimmer", levels.leadIn + 80)).toBeCloseTo(100, 0);
  expect(placeAt(spot, levels, "Dimmer", levels.frames)).toBeCloseTo(10, 0);
});

test("a wheel shows its first picture, and a gobo stands where the focus is sharp", () => {
  const gobo = compiled("{ side-by-side: Gobo1, dwell_s: 4 }");
  const first = spot.functions.get("Gobo1");
  expect(first?.kind === "wheel" && rawAt(gobo, "Gobo1", gobo.leadIn)).toBe(
    first?.kind === "wheel" && first.positions.find(({ is }) => is !== "open")?.at,
  );
  const focus = spot.functions.get("Focus1");
  const sharp = focus?.kind === "travel" ? focus.sharp : undefined;
  expect(placeAt(spot, gobo, "Focus1", gobo.leadIn)).toBeCloseTo(sharp!, 0);
  expect(settingAfter(gobo).get("Gobo1")).toBe(rawAt(gobo, "Gobo1", gobo.leadIn));
});
