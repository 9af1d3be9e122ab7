import fc from "fast-check";
import { expect, test } from "vitest";
import { fullRaw, type Profile, type Travel } from "../../src/data/profile/profile.ts";
import { compile } from "../../src/plan/compile.ts";
import { darkened, placeAt, rawAt, sample, sampleRest, sampler } from "../../src/plan/sample.ts";
import { fingerprint } from "../../src/plan/stored.ts";
import type { CompiledStep } from "../../src/plan/timeline.ts";
import { sequenceOf, shippedBench, shippedProfile, shippedSequence } from "../kit/shipped.ts";

const spot = shippedProfile("spot-16bit");
const bench = shippedBench();
const stepOf = (text: string, profile = spot): CompiledStep => compile(profile, sequenceOf(text), bench).steps[0]!;

test("a 16-bit sweep is exactly the ideal grid: every frame the rounded straight line, first and last on the ends", () => {
  const step = stepOf("{ sweep: Pan, seconds: 24, passes: 1 }");
  const [move] = step.moves.filter((one) => one.function === "Pan");
  expect(move).toMatchObject({ from: 0, to: 65535, frames: 960 });
  const sent = Array.from({ length: 961 }, (_, n) => rawAt(step, "Pan", move!.start + n));
  expect(sent).toEqual(Array.from({ length: 961 }, (_, n) => Math.round((65535 * n) / 960)));
  expect(new Set(sent).size).toBe(961);
});

test("both bytes of a 16-bit value stand in one frame, coarse first", () => {
  const step = stepOf("{ sweep: Pan, seconds: 24, passes: 1 }");
  for (let n = 0; n < step.frames; n += 7) {
    const [coarse = 0, fine = 0] = sample(spot, step, n);
    expect(coarse * 256 + fine).toBe(rawAt(step, "Pan", n));
  }
});

test("the cells of a wash are driven alike: all seven pixels carry the red of the first in every frame", () => {
  const wash = shippedProfile("led-pixels");
  const step = stepOf("{ sweep: ColorAdd_R, seconds: 2, passes: 1 }", wash);
  const reds = [9, 13, 17, 21, 25, 29, 33];
  const frames = Array.from({ length: step.frames }, (_, n) => sample(wash, step, n));
  for (const slots of frames) expect(new Set(reds.map((slot) => slots[slot - 1])).size).toBe(1);
  expect(new Set(frames.map((slots) => slots[32])).size).toBeGreaterThan(50);
});

test("a rising sweep never falls", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.5, max: 60, noNaN: true }),
      fc.constantFrom("Pan", "Tilt", "Zoom", "Focus1", "Frost1"),
      (seconds, id) => {
        const step = stepOf(`{ sweep: ${id}, seconds: ${seconds}, passes: 1 }`);
        for (let n = step.leadIn; n < step.frames; n++)
          expect(rawAt(step, id as "Pan", n + 1)).toBeGreaterThanOrEqual(rawAt(step, id as "Pan", n));
      },
    ),
    { numRuns: 40 },
  );
});

test("a sweep never asks for more than the fixture can do", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 5, noNaN: true }), (seconds) => {
      const step = stepOf(`{ sweep: Pan, seconds: ${seconds}, passes: 2 }`);
      const { fullTravel } = spot.functions.get("Pan") as Travel;
      for (const move of step.moves.filter(({ function: id, frames }) => id === "Pan" && frames > 0))
        expect(move.frames / 40).toBeGreaterThanOrEqual((Math.abs(move.to - move.from) / 65535) * fullTravel - 1e-9);
    }),
  );
});

test("sampling one frame and sampling many are the same bytes", () => {
  for (const step of compile(spot, shippedSequence("quick"), bench).steps.filter(({ fitted }) => fitted)) {
    const many = sampler(spot, step);
    for (const n of [0, step.leadIn, Math.floor(step.frames / 2), step.frames, step.frames + 500])
      expect(many(n)).toEqual(sample(spot, step, n));
  }
});

test("past its end a step stands still", () => {
  const step = stepOf("{ sweep: Tilt, speed: full }");
  expect(sample(spot, step, step.frames + 4000)).toEqual(sample(spot, step, step.frames));
});

test("the same inputs give the same fingerprints, another address of nothing, one level more another", () => {
  const prints = () =>
    compile(spot, shippedSequence("quick"), bench).steps.map((step) => (step.fitted ? fingerprint(spot, step) : ""));
  expect(prints()).toEqual(prints());
  expect(fingerprint(spot, stepOf("{ hold: Dimmer, at_pct: [50] }"))).not.toBe(
    fingerprint(spot, stepOf("{ hold: Dimmer, at_pct: [51] }")),
  );
});

test("the fingerprint is SHA-256 of the frames (Node's own implementation as the reference)", async () => {
  const { createHash } = await import("node:crypto");
  const step = stepOf("{ snap: Iris, times: 2 }");
  const hash = createHash("sha256");
  for (let n = 0; n < step.frames; n++) hash.update(sample(spot, step, n));
  expect(fingerprint(spot, step)).toBe(hash.digest("hex"));
});

test("the place at a frame is in degrees for axes, and there is none for a wheel", () => {
  const step = stepOf("{ sweep: Pan, seconds: 24, passes: 1 }");
  expect(placeAt(spot, step, "Pan", step.leadIn)).toBe(-270);
  expect(placeAt(spot, step, "Pan", step.frames)).toBe(270);
  expect(placeAt(spot, step, "Gobo1", 0)).toBeUndefined();
});

test("the rest state is dark in every slot that makes light", () => {
  const rest = sampleRest(spot);
  expect([rest[4], rest[5]! <= 31]).toEqual([0, true]);
});

test("slots of no function keep their held value at rest, in every frame, and when the beam is shut", () => {
  const holding: Profile = { ...spot, held: [{ slots: [24, 25], at: 0x1234 }] };
  const step = stepOf("sweep: Pan", holding);
  const frames = [sampleRest(holding), sample(holding, step, 100), darkened(holding, sample(holding, step, 100))];
  expect(frames.map((slots) => [slots[23], slots[24]])).toEqual([0, 1, 2].map(() => [0x12, 0x34]));
});

test("a sweep of a travel that shares its slot never leaves its part of the slot", () => {
  const iris = { ...(spot.functions.get("Iris") as Travel), low: 10, high: 191 };
  const sharing: Profile = { ...spot, functions: new Map(spot.functions).set("Iris", iris) };
  for (const words of ["sweep: Iris", "{ snap: Iris, times: 3 }", "shake: Iris", "backlash: Iris", "identify: Iris"]) {
    const step = stepOf(words, sharing);
    const levels = Array.from({ length: step.frames }, (_, n) => sample(sharing, step, n)[17]!);
    expect([Math.min(...levels) >= 10, Math.max(...levels) <= 191], words).toEqual([true, true]);
  }
});

test("one slot of 8-bit pan steps visibly at 20 degrees a second and the step says so; 16 bits do not", () => {
  const note = "pan: small even steps are the data, not the fixture";
  expect(stepOf("{ sweep: Pan, deg_per_s: 20 }", shippedProfile("spot-8bit")).notes).toContain(note);
  expect(stepOf("{ sweep: Pan, deg_per_s: 20 }").notes).toEqual([]);
  // range / 255 * frame rate = 84.7 degrees a second for 540 degrees at 40 Hz (worked)
  expect(stepOf("{ sweep: Pan, deg_per_s: 80 }", shippedProfile("spot-8bit")).notes).toContain(note);
  expect(stepOf("{ sweep: Pan, deg_per_s: 90 }", shippedProfile("spot-8bit")).notes).toEqual([]);
  expect(fullRaw(shippedProfile("spot-8bit").functions.get("Pan")!)).toBe(255);
});
