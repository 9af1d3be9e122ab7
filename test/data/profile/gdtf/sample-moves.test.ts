import { describe, expect, test } from "vitest";
import { type Band, physicalOf, rawOfShare } from "../../../../src/data/profile/profile.ts";
import type { FunctionId } from "../../../../src/domain/trade/functions.ts";
import { compile } from "../../../../src/plan/compile.ts";
import { placeAt, sampleRest, sampler } from "../../../../src/plan/sample.ts";
import type { CompiledStep } from "../../../../src/plan/timeline.ts";
import type { PartScene } from "../../../../src/sim/scene.ts";
import { wrap } from "../../../../src/sim/wheel.ts";
import { shippedBench, shippedSequence } from "../../../kit/shipped.ts";
import { SIMULATED } from "./kit/simulated.ts";
import { MODES, partIn, placeOf, Stand } from "./kit/stand.ts";

describe.each(MODES)("the simulated fixture in mode %s, built from the numbers of the GDTF text", (mode) => {
  const stand = new Stand(mode);
  const { profile } = stand;
  const specs = [...profile.functions];

  test("has as many slots and the functions of the profile, and no others", () => {
    const built = SIMULATED[mode].parts.map((part) => part.function);
    expect(specs.map(([id]) => id).toSorted()).toEqual(built.toSorted());
    expect(SIMULATED[mode].slots).toBe(profile.slots);
  });

  test.each(specs.flatMap(([id, spec]) => (spec.kind === "travel" ? [{ id, spec }] : [])))(
    "$id travels to the place that the profile names",
    ({ id, spec }) => {
      for (const share of [0, 0.25, 0.5, 0.9, 1, 0]) {
        const raw = rawOfShare(spec, share);
        expect(placeOf(stand.put(id, raw)), `raw ${raw}`).toBeCloseTo(physicalOf(spec, raw), 3);
      }
    },
  );

  test.each(specs.flatMap(([id, spec]) => (spec.kind === "wheel" ? [{ id, spec }] : [])))(
    "$id shows at each position what the profile names",
    ({ id, spec }) => {
      const shown = spec.positions.map(({ at }) => stand.put(id, at));
      const items = shown.map((part) => (part.kind === "wheel" ? part.item.toLowerCase() : ""));
      expect(items).toEqual(spec.positions.map(({ is }) => is.toLowerCase()));
    },
  );

  test.each(specs.flatMap(([id, spec]) => (spec.kind === "banded" ? spec.bands.map((band) => ({ id, band })) : [])))(
    "$id does at levels $band.from to $band.to what the profile names: $band.is",
    ({ id, band }) => {
      for (const level of [band.from, Math.floor((band.from + band.to) / 2), band.to])
        expectDoing(stand.put(id, level), band, level);
    },
  );

  test("takes the commands of the profile, and none at rest", () => {
    const taken = SIMULATED[mode].parts.flatMap((part) => (part.kind === "control" ? part.commands : []));
    const nearest = (level: number) => taken.find(({ at }) => Math.abs(at - level) <= 2)?.is;
    for (const [, spec] of specs) {
      if (spec.kind !== "commands") continue;
      expect(spec.commands.map(({ at }) => nearest(at))).toEqual(spec.commands.map(({ is }) => is));
      expect(nearest(spec.rest)).toBeUndefined();
    }
  });

  test("follows the quick check: whatever has had a second and a half to settle is where the frame says", () => {
    const { steps } = compile(profile, shippedSequence("quick"), shippedBench());
    const settled = steps.reduce((sum, step) => sum + expectFollowed(stand, step), 0);
    expect(settled).toBeGreaterThan(100);
  });
});

test("cells that are driven alike get the same levels in the same frame", () => {
  const { profile } = new Stand("Cells");
  const rest = new Map(profile.rest).set("ColorAdd_R", 77).set("ColorAdd_B", 99);
  expect([...sampleRest({ ...profile, rest }).slice(0, 9)]).toEqual([77, 0, 99, 77, 0, 99, 77, 0, 99]);
});

const SETTLES = 60;

/** Plays a step on the stand; how many frames found its travels settled, and right. */
const expectFollowed = (stand: Stand, step: CompiledStep): number => {
  const { profile } = stand;
  const asked = step.functions.filter((id) => profile.functions.get(id)?.kind === "travel");
  const told = (n: number) => asked.map((id) => placeAt(profile, step, id, n) ?? Number.NaN);
  const frame = sampler(profile, step);
  let still = 0;
  let settled = 0;
  for (let n = 0; n < step.frames && asked.length > 0; n++) {
    const scene = stand.send(frame(n), 1 / 40);
    still = n > 0 && same(told(n), told(n - 1)) ? still + 1 : 0;
    if (still < SETTLES) continue;
    settled++;
    expect(placesIn(scene, asked), `${step.id}, frame ${n}`).toEqual(told(n).map((place) => expect.closeTo(place, 2)));
  }
  return settled;
};

const placesIn = (scene: Parameters<typeof partIn>[0], asked: readonly FunctionId[]): readonly number[] =>
  asked.map((id) => placeOf(partIn(scene, id)));

const same = (a: readonly number[], b: readonly number[]): boolean => a.every((value, index) => value === b[index]);

/** A leaf stands in the beam or out of it, a rotation at its angle or turning at its speed. */
const expectDoing = (part: PartScene, band: Band, level: number): void => {
  const [from = 0, to = 0] = band.range ?? [];
  const wanted = from + ((to - from) * (level - band.from)) / Math.max(1, band.to - band.from);
  if (band.is === "closed" || band.is === "in") expect(part.at).toBeCloseTo(1, 3);
  else if (band.is === "open" || band.is === "out") expect(part.at).toBeCloseTo(0, 3);
  else if (band.is === "index") expect(wrap(part.at - wanted / 360)).toBeCloseTo(0, 3);
  else if (band.is === "turn") expect(part.speed * 60).toBeCloseTo(wanted, 1);
  else if (band.is === "stop") expect(part.speed).toBeCloseTo(0, 2);
  else expect(part).toMatchObject({ beating: band.is === "strobe" });
};
