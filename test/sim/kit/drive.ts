import type { FunctionId } from "../../../src/domain/trade/functions.ts";
import type { FixtureBuild } from "../../../src/sim/build.ts";
import { Fixture, type FixtureOptions, HEALTHY } from "../../../src/sim/fixture.ts";
import type { Comparison, PartScene, Scene } from "../../../src/sim/scene.ts";

export type Wanted = Partial<Record<FunctionId, number>>;

/** Levels of a whole universe from shares of travel (0..1) or, for one-slot bands, raw levels given as `raw`. */
export const universe = (build: FixtureBuild, shares: Wanted, raw: Wanted = {}): Uint8Array => {
  const levels = new Uint8Array(512);
  for (const part of build.parts) {
    const value = raw[part.function] ?? Math.round((shares[part.function] ?? 0) * (256 ** part.slots.length - 1));
    part.slots.forEach((slot, n) => {
      levels[build.startAddress + slot - 2] = Math.floor(value / 256 ** (part.slots.length - 1 - n)) % 256;
    });
  }
  return levels;
};

/** A fixture and its twin, driven by the same hand. */
export class Pair {
  readonly fixture: Fixture;
  readonly twin: Fixture;
  readonly build: FixtureBuild;
  raw: Wanted = { Shutter1: 0 };
  shares: Wanted = { Pan: 0.5, Tilt: 0.5, Dimmer: 0, Focus1: 0.5, Zoom: 0.5, Iris: 0 };
  onFrame: (both: Comparison) => void = () => {};

  constructor(build: FixtureBuild, options: Partial<FixtureOptions> = {}) {
    this.build = build;
    this.fixture = new Fixture(build, { ...HEALTHY, ...options });
    const { attitude, warmth } = { ...HEALTHY, ...options };
    this.twin = new Fixture(build, { ...HEALTHY, attitude, warmth });
  }

  frame(): Comparison {
    const levels = universe(this.build, this.shares, this.raw);
    const both = { scene: this.fixture.advance(levels), twin: this.twin.advance(levels) };
    this.onFrame(both);
    return both;
  }

  run(seconds: number): Comparison {
    let both = this.frame();
    for (let n = 1; n < Math.round(seconds * 40); n += 1) both = this.frame();
    return both;
  }

  /** Homes, waits for the lamp to warm, opens the light when asked. */
  ready(light: "light" | "dark" = "light"): this {
    this.run(this.build.homing_s * 2.1);
    if (light === "light") this.shine();
    this.run(70);
    return this;
  }

  shine(): void {
    this.raw = { ...this.raw, Shutter1: 40 };
    this.shares = { ...this.shares, Dimmer: 1 };
  }

  /** Moves one function evenly from here to there. */
  sweep(id: FunctionId, from: number, to: number, seconds: number): void {
    const frames = Math.max(1, Math.round(seconds * 40));
    for (let n = 0; n <= frames; n += 1) {
      this.shares = { ...this.shares, [id]: from + ((to - from) * n) / frames };
      this.frame();
    }
  }

  go(id: FunctionId, to: number, seconds: number): Comparison {
    this.shares = { ...this.shares, [id]: to };
    return this.run(seconds);
  }
}

export const part = (scene: Scene, id: FunctionId): PartScene => {
  const found = scene.parts.find((one) => one.function === id);
  if (!found) throw new Error(`no ${id}`);
  return found;
};
