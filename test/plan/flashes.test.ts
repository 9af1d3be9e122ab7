import fc from "fast-check";
import { expect, test } from "vitest";
import { rackJobFor } from "../../src/app/rack/rack-job.ts";
import { parseProfile } from "../../src/data/profile/parse.ts";
import type { Profile } from "../../src/data/profile/profile.ts";
import { parseRack } from "../../src/data/rack/parse.ts";
import { parseSequence } from "../../src/data/sequence/parse.ts";
import { NOTHING_LEARNED } from "../../src/diagnosis/model/shop.ts";
import { fileLibrary } from "../../src/io/files/files.ts";
import { compileStep } from "../../src/plan/compile.ts";
import { sample } from "../../src/plan/sample.ts";
import { toAndFro } from "../../src/plan/slow-moves.ts";
import type { CompiledStep } from "../../src/plan/timeline.ts";
import { must, shippedBench, shippedText } from "../kit/shipped.ts";

/**
 * A counter of its own: it reads the slots of every frame as the fixture would, lets a strobe flash in steps of a millisecond,
 * and counts pairs of opposing changes of a tenth of the full light or more within any one second (WCAG 2.2, 2.3.1).
 */
interface Optics {
  readonly strobe: readonly [lowHz: number, highHz: number];
  /** How much light each place of the colour wheel lets through. */
  readonly colours: readonly number[];
}

/** A shutter: closed, flashing, open. */
const lets = (shutter: number, phase: number): number => {
  if (shutter < 64) return 0;
  return shutter > 191 || phase % 1 < 0.5 ? 1 : 0;
};

const flashesSeen = (profile: Profile, step: CompiledStep, { strobe, colours }: Optics): number => {
  const lights: number[] = [];
  let phase = 0;
  for (let n = 0; n <= step.frames; n++) {
    const [dimmer = 0, shutter = 0, wheel = 0, cyan = 0, iris = 0] = sample(profile, step, n);
    const colour = colours[Math.min(colours.length - 1, Math.floor(wheel / 40))] ?? 1;
    const steady = (dimmer / 255) * colour * (1 - 0.7 * (cyan / 255)) * ((255 - iris) / 255);
    const hz = shutter >= 64 && shutter <= 191 ? strobe[0] + ((shutter - 64) / 127) * (strobe[1] - strobe[0]) : 0;
    for (let ms = 0; ms < 25; ms++) {
      phase += hz / 1000;
      lights.push(lets(shutter, phase) * steady);
    }
  }
  return mostPairs(lights);
};

const mostPairs = (lights: readonly number[]): number => {
  const turns: number[] = [];
  let [low, high] = [lights[0] ?? 0, lights[0] ?? 0];
  let way: "up" | "down" | "neither" = "neither";
  for (const [ms, light] of lights.entries()) {
    if (way !== "up" && light - low >= 0.1) {
      turns.push(ms);
      way = "up";
      high = light;
    } else if (way !== "down" && high - light >= 0.1) {
      turns.push(ms);
      way = "down";
      low = light;
    }
    if (way !== "down") high = Math.max(high, light);
    if (way !== "up") low = Math.min(low, light);
  }
  const within = (from: number) => turns.filter((at) => at >= from && at < from + 1000).length;
  return Math.max(0, ...turns.map((from) => Math.floor(within(from) / 2)));
};

test("the counter counts: four square flashes in a second are four, and a slow swell is none", () => {
  const square = (hz: number) => Array.from({ length: 3000 }, (_, ms) => (((ms * hz) / 1000) % 1 < 0.5 ? 1 : 0));
  expect([1, 3, 4, 10].map((hz) => mostPairs(square(hz)))).toEqual([1, 3, 4, 10]);
  expect(mostPairs(Array.from({ length: 3000 }, (_, ms) => ms / 3000))).toBe(0);
  expect(mostPairs(Array.from({ length: 3000 }, (_, ms) => 0.04 * (ms % 2)))).toBe(0);
});

const optics = fc.record({
  strobe: fc.tuple(fc.double({ min: 0.2, max: 5, noNaN: true }), fc.double({ min: 1, max: 25, noNaN: true })),
  colours: fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 5, maxLength: 5 }),
});
const kinds = fc.record({
  optics,
  dimmer: fc.boolean(),
  shutter: fc.constantFrom("none", "open and closed", "with a strobe"),
  extras: fc.boolean(),
  quick: fc.constantFrom(0.02, 0.05, 0.2, 0.6),
});

type Kind = typeof kinds extends fc.Arbitrary<infer K> ? K : never;

const profileText = ({ optics: { strobe }, dimmer, shutter, extras, quick }: Kind): string => {
  const bands = [
    "{ is: closed, from: 0, to: 63 }",
    ...(shutter === "with a strobe"
      ? [`{ is: strobe, from: 64, to: 191, from_hz: ${strobe[0].toFixed(3)}, to_hz: ${strobe[1].toFixed(3)} }`]
      : []),
    `{ is: open, from: 192, to: 255 }`,
  ];
  const has = dimmer || shutter === "none";
  const functions = [
    ...(has ? [`  Dimmer: { slots: [1], from_pct: 0, to_pct: 100, full_travel_s: ${quick} }`] : []),
    ...(shutter === "none" ? [] : [`  Shutter1: { slots: [2], bands: [${bands.join(", ")}] }`]),
    ...(extras
      ? [
          `  Color1: { slots: [3], wheel: colour, step_s: ${quick}, positions: [${["open", "red", "blue", "green", "pink"].map((is, n) => `{ is: ${is}, at: ${n * 40} }`).join(", ")}] }`,
          `  ColorSub_C: { slots: [4], from_pct: 0, to_pct: 100, full_travel_s: ${quick} }`,
          `  Iris: { slots: [5], from_pct: 100, to_pct: 0, full_travel_s: ${quick} }`,
        ]
      : []),
  ];
  const always = [
    ...(has ? [] : ["{ slots: [1], at: 255, is: full }"]),
    ...(shutter === "none" ? ["{ slots: [2], at: 255, is: open }"] : []),
  ];
  const held = always.length === 0 ? "" : `held: [${always.join(", ")}]\n`;
  return `profile: random\ntitle: Random\nslots: 5\npower_up_s: 1\nlamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }\nfunctions:\n${functions.join("\n")}\nrest: {${has ? " Dimmer: 0" : " Shutter1: closed"} }\n${held}`;
};

const profileOf = (kind: Kind): Profile => must(parseProfile("random.yaml", profileText(kind)));

const dwell = fc.double({ min: 0.01, max: 0.6, noNaN: true }).map((value) => Math.round(value * 100) / 100);
const lightIds = fc.constantFrom("Dimmer", "Shutter1", "Color1", "ColorSub_C", "Iris");
const steps = fc.oneof(
  fc.tuple(lightIds, dwell).map(([id, s]) => `{ snap: ${id}, times: 6, pct: 90, dwell_s: ${s} }`),
  fc.tuple(lightIds, dwell).map(([id, s]) => `{ in-and-out: ${id}, times: 6, dwell_s: ${s} }`),
  fc.tuple(lightIds, dwell).map(([id, s]) => `{ sweep: ${id}, passes: 8, seconds: ${s} }`),
  fc.tuple(lightIds, dwell).map(([id, s]) => `{ hold: ${id}, at_pct: [5, 90, 10, 80, 0, 100, 20, 70], seconds: ${s} }`),
  dwell.map((s) => `{ step-through: Color1, dwell_s: ${s}, longest_hops: true }`),
  lightIds.map((id) => `{ identify: ${id} }`),
  fc.tuple(lightIds, lightIds, dwell).map(([a, b, s]) => `{ snap: [${a}, ${b}], times: 6, dwell_s: ${s} }`),
);

const bench = shippedBench();
const compiledOf = (profile: Profile, written: string, pace: number): CompiledStep => {
  const sequence = must(parseSequence("own.yaml", `sequence: own\ntitle: Own\nsteps:\n  - ${written}\n`));
  return compileStep(profile, bench, sequence.steps[0]!, profile.rest, pace);
};

test("whatever the fixture and the step, no compiled step flashes more than three times in any second", () => {
  fc.assert(
    fc.property(kinds, steps, fc.constantFrom(1, 0.5), (kind, written, pace) => {
      const profile = profileOf(kind);
      const step = compiledOf(profile, written, pace);
      if (step.fitted)
        expect(flashesSeen(profile, step, kind.optics), `${written}: ${step.notes}`).toBeLessThanOrEqual(3);
    }),
    { numRuns: 400 },
  );
}, 60_000);

/** Ten flashes a second in the middle of its band. */
const STROBING: Kind = {
  optics: { strobe: [10, 10], colours: [1, 1, 1, 1, 1] },
  dimmer: true,
  shutter: "with a strobe",
  extras: false,
  quick: 0.2,
};

test("nor does work to and fro at a place, however fast it was made", () => {
  fc.assert(
    fc.property(
      kinds,
      fc.constantFrom("Dimmer" as const, "Iris" as const),
      fc.double({ min: 0.02, max: 2, noNaN: true }),
      // What was looked at may have been a strobe.
      fc.nat({ max: 255 }),
      (kind, id, pass, shutter) => {
        const profile = profileOf(kind);
        if (!profile.functions.has(id)) return;
        const lit = compiledOf(profile, "{ hold: Dimmer, at_pct: [100] }", 1);
        const standing = lit.fitted
          ? new Map([...lit.start, ...lit.moves.map((move) => [move.function, move.to] as const)])
          : profile.rest;
        const strobing = profile.functions.has("Shutter1")
          ? new Map([...standing, ["Shutter1" as const, shutter]])
          : standing;
        const step = toAndFro(profile, strobing, { function: id, low: 10, high: 240, pass });
        expect(flashesSeen(profile, step, kind.optics)).toBeLessThanOrEqual(3);
      },
    ),
    { numRuns: 100, examples: [[STROBING, "Dimmer", 0.5, 128]] },
  );
}, 60_000);

/** Three fixtures of this kind in a rack, and one step for all of them. */
const rackWith = (kind: Kind, written: string) => {
  const profile = profileOf(kind);
  const sequence = `sequence: own\ntitle: Own\nsteps:\n  - ${written}\n`;
  const fixtures = [1, 2, 3].map(
    (n) => `  - { serial: R${n}, profile: random, shelf: top, place: "${n}", universe: 1, address: ${10 * n} }\n`,
  );
  const text = `rack: own\ntitle: Own\nlines: [{ universe: 1, output: sim }]\nfixtures:\n${fixtures.join("")}`;
  return rackJobFor(fileLibrary(), {
    run: "r",
    person: "KM",
    rack: { value: must(parseRack("own.yaml", text, () => ({ ok: true, value: profile }))), text },
    sequence: { value: must(parseSequence("own.yaml", sequence)), text: sequence },
    bench: { value: bench, text: shippedText("benches/bench.yaml") },
    profiles: new Map([["random", profileText(kind)]]),
    learned: NOTHING_LEARNED,
    outputOf: () => "sim",
    set: new Map(),
  });
};

test("a rack plays no such step either, on none of its fixtures: it is dark, or refused", () => {
  fc.assert(
    fc.property(kinds, steps, (kind, written) => {
      const profile = profileOf(kind);
      const rack = rackWith(kind, written);
      for (const { session } of rack.ok ? rack.value.members : [])
        for (const step of session.job.timeline.steps.filter(({ fitted }) => fitted))
          expect(flashesSeen(profile, step, kind.optics), `${written}: ${step.notes}`).toBeLessThanOrEqual(3);
    }),
    { numRuns: 150 },
  );
}, 60_000);

const kind = (more: Partial<Kind>) =>
  profileOf({
    optics: { strobe: [1, 10], colours: [1, 0, 1, 0, 1] },
    dimmer: true,
    shutter: "open and closed",
    extras: true,
    quick: 0.02,
    ...more,
  });

test.each([
  {
    profile: kind({}),
    step: "{ snap: Dimmer, times: 8, dwell_s: 0.02 }",
    is: "dark",
    because: "the shutter can stay closed",
  },
  {
    profile: kind({}),
    step: "{ in-and-out: Shutter1, times: 8, dwell_s: 0.02 }",
    is: "lit",
    because: "a shutter is given time",
  },
  {
    profile: kind({ shutter: "with a strobe", optics: { strobe: [20, 25], colours: [1] } }),
    step: "{ identify: Shutter1 }",
    is: "dark",
    because: "it runs through the strobe; the dimmer stays at nothing",
  },
  {
    profile: kind({ shutter: "none", extras: false }),
    step: "{ snap: Dimmer, times: 8, dwell_s: 0.02 }",
    is: "refused",
    because: "nothing else can make it dark",
  },
  { profile: kind({}), step: "{ snap: Dimmer, times: 8, dwell_s: 0.4 }", is: "lit", because: "that is slow enough" },
])("$step: $is, $because", ({ profile, step, is }) => {
  const compiled = compiledOf(profile, step, 1);
  const played = compiled.fitted ? (compiled.beam === "open" || compiled.flashes <= 3 ? "lit" : "dark") : "refused";
  expect(played).toBe(is);
  if (is !== "lit") expect(compiled.notes.join()).toMatch(/\d+ flashes in a second/);
});
