import { expect, test } from "vitest";
import type { FixtureBuild } from "../../src/sim/build.ts";
import { Fixture } from "../../src/sim/fixture.ts";
import { shines } from "../../src/sim/scene.ts";
import { Pair, part, universe } from "./kit/drive.ts";
import { spot } from "./kit/spot.ts";

/** A travelling part of the healthy twin, in its physical unit. */
const physical = (pair: Pair, id: "Pan" | "Tilt" | "Zoom") => {
  const found = part(pair.frame().twin, id);
  return found.kind === "travel" ? found.physical : Number.NaN;
};

test("while it homes it is deaf to DMX, and the display says so", () => {
  const fixture = new Fixture(spot());
  const other = new Fixture(spot());
  const high = universe(spot(), { Pan: 1, Tilt: 1, Dimmer: 1 }, { Shutter1: 40 });
  const low = universe(spot(), { Pan: 0, Tilt: 0 }, { Shutter1: 0 });
  for (let n = 0; n < 30 * 40 - 1; n += 1) {
    const scene = fixture.advance(high);
    expect(scene).toEqual(other.advance(low));
    expect(scene.phase).toBe("homing");
    expect(scene.display).toBe("homing");
  }
  expect(fixture.advance(high).phase).toBe("ready");
});

test("a lamp strikes after homing and its delay, warms up, and once out stays out until it has cooled", () => {
  const pair = new Pair(spot());
  pair.shine();
  expect(pair.run(33.9).scene.picture.lit).toBe(false);
  expect(pair.run(0.3).scene.picture.lit).toBe(true);
  const cold = pair.run(1).scene.picture.output;
  const warm = pair.run(61).scene.picture.output;
  expect(cold).toBeLessThan(0.7 * warm);
  expect(pair.run(5).scene.picture.output).toBe(warm);
  pair.fixture.mains("off");
  expect(pair.run(1).scene.picture.lit).toBe(false);
  pair.fixture.mains("on");
  expect(pair.run(250).scene.picture.lit).toBe(false);
  expect(pair.run(90).scene.picture.lit).toBe(true);
});

test("an LED source shines as soon as it is ready", () => {
  const pair = new Pair({ ...spot(), source: { kind: "led" } });
  pair.shine();
  pair.run(30.5);
  expect(pair.frame().scene.picture.output).toBeGreaterThan(0.9);
});

test("16-bit pan: every raw value gives the angle that GDTF's rule gives (FACTS: worked from DIN SPEC 15800)", () => {
  const pair = new Pair(spot()).ready("dark");
  for (const [raw, deg] of [
    [0, -270],
    [32767, -0.00412],
    [32768, 0.00412],
    [65535, 270],
  ] as const) {
    pair.raw = { ...pair.raw, Pan: raw };
    pair.run(4);
    expect(physical(pair, "Pan")).toBeCloseTo(deg, 4);
  }
});

test("the fine byte alone moves it by less than the coarse byte's step", () => {
  const pair = new Pair(spot()).ready("dark");
  pair.raw = { ...pair.raw, Pan: 0x8000 };
  pair.run(3);
  const before = physical(pair, "Pan");
  pair.raw = { ...pair.raw, Pan: 0x80ff };
  pair.run(3);
  expect(physical(pair, "Pan") - before).toBeCloseTo((255 / 65535) * 540, 6);
});

test("it listens from its start address on, and to nothing before", () => {
  const pair = new Pair(spot(145)).ready("dark");
  const stray = universe(spot(1), { Pan: 1, Tilt: 1 });
  const own = universe(spot(145), { Pan: 0.5, Tilt: 0.5 });
  const noise = Uint8Array.from(own, (level, n) => (n < 144 || n >= 144 + 28 ? (stray[n] ?? 0) || 255 : level));
  for (let n = 0; n < 160; n += 1) pair.twin.advance(noise);
  const still = part(pair.twin.advance(noise), "Pan");
  expect(still.at).toBeCloseTo(0.5, 4);
  pair.go("Pan", 1, 4);
  expect(physical(pair, "Pan")).toBeCloseTo(270, 4);
});

test("movement begins a lag after the frame: 0.3 s on pan, and a sweep runs that and speed / (2 x acceleration) behind", () => {
  const pair = new Pair(spot()).ready("dark");
  pair.shares = { ...pair.shares, Pan: 0.6 };
  const starts = Array.from({ length: 40 }, () => Math.abs(part(pair.frame().twin, "Pan").speed) > 0).indexOf(true);
  expect(starts).toBe(12);
  pair.go("Pan", 0, 5);
  pair.sweep("Pan", 0, 0.8, 8);
  const behind = 0.8 - part(pair.frame().twin, "Pan").at;
  const full = 1 / (2.6 - 0.4);
  expect(behind / 0.1).toBeCloseTo(0.3 + 0.1 / (2 * (full / 0.4)), 1);
});

test("without frames it holds for good; after 1.25 s the display says that no data comes (ANSI E1.11, secondary)", () => {
  const fixture = new Fixture(spot());
  const levels = universe(spot(), { Pan: 0.9, Dimmer: 1 }, { Shutter1: 40 });
  for (let n = 0; n < 60 * 40; n += 1) fixture.advance(levels);
  const shown = Array.from({ length: 400 }, () => fixture.advance(undefined));
  expect(shown.findIndex(({ display }) => display === "no data")).toBe(50);
  expect(shown.every(shines)).toBe(true);
  expect(part(shown.at(-1)!, "Pan").at).toBeCloseTo(0.9, 4);
});

test("the control slot resets it after standing long enough, not when it is only swept through", () => {
  const pair = new Pair(spot()).ready("dark");
  for (let level = 0; level <= 255; level += 1) {
    pair.raw = { ...pair.raw, Control1: level };
    expect(pair.frame().twin.phase).toBe("ready");
  }
  pair.raw = { ...pair.raw, Control1: 210 };
  expect(pair.run(4.9).twin.phase).toBe("ready");
  expect(pair.run(0.2).twin.phase).toBe("homing");
  pair.raw = { ...pair.raw, Control1: 0 };
  expect(pair.run(30.2).twin.phase).toBe("ready");
});

test("lamp off by the control slot puts the light out, lamp on brings it back once it has cooled", () => {
  const pair = new Pair(spot()).ready("light");
  pair.raw = { ...pair.raw, Control1: 60 };
  expect(pair.run(3.2).twin.picture.lit).toBe(false);
  pair.raw = { ...pair.raw, Control1: 40 };
  expect(pair.run(200).twin.picture.lit).toBe(false);
  expect(pair.run(110).twin.picture.lit).toBe(true);
});

test("a hot lamp cools without mains too: after that it strikes as soon as it has its home and its delay", () => {
  const lit = () => {
    const pair = new Pair(spot()).ready("light");
    pair.twin.mains("off");
    return pair;
  };
  const struck = (pair: Pair) => {
    pair.twin.mains("on");
    return pair.run(spot().homing_s + 10).twin.picture.lit;
  };
  const short = lit();
  short.run(60);
  expect(struck(short)).toBe(false);
  const long = lit();
  expect(long.run(600).twin.picture.lit).toBe(false);
  expect(struck(long)).toBe(true);
});

test("hung, the lens points down where standing it points up", () => {
  const standing = new Pair(spot()).ready("dark").frame().twin.upright;
  const hung = new Pair(spot(), { attitude: "hung" }).ready("dark").frame().twin.upright;
  expect(standing).toBeCloseTo(1, 3);
  expect(hung).toBeCloseTo(-1, 3);
});

test("a travel that shares its slot goes from end to end between its raw ends, and no further", () => {
  const shared: FixtureBuild = {
    ...spot(),
    parts: spot().parts.map((one) =>
      one.kind === "travel" && one.function === "Zoom" ? { ...one, slots: [19], raw: [50, 150] } : one,
    ),
  };
  const pair = new Pair(shared);
  pair.run(35);
  const zoomAt = (level: number): number => {
    pair.raw = { ...pair.raw, Zoom: level };
    pair.run(3);
    return physical(pair, "Zoom");
  };
  expect([0, 50, 100, 150, 255].map(zoomAt)).toEqual([8, 8, 26.5, 45, 45].map((at) => expect.closeTo(at, 6)));
});
