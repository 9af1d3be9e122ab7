import { FRAME_SECONDS, type Seconds } from "../domain/units.ts";
import type { LightBuild, SourceBuild } from "./build.ts";
import { Delay } from "./follower.ts";
import type { SourceMoment } from "./moment.ts";
import { levelShare, type SimPart } from "./part.ts";
import { type PartScene, SILENCE } from "./scene.ts";
import type { SourceTrouble } from "./trouble.ts";

const TRIES_EVERY_S = 4;
/** A lamp gives this share of its light at the strike and the rest as it warms up. */
const AT_STRIKE = 0.55;

/** What makes the light. A lamp strikes, warms up, and when it went out hot must cool before the next try. */
export class Source {
  lit_s: Seconds = 0;
  output = 0;
  private wait_s: Seconds;
  private wanted = true;
  private readonly build: SourceBuild;
  private readonly troubles: readonly SourceTrouble[];

  constructor(build: SourceBuild, troubles: readonly SourceTrouble[]) {
    this.build = build;
    this.troubles = troubles;
    this.wait_s = this.delay();
  }

  /** Wants the light on or off; a hot lamp that is put out must cool before it strikes again. */
  switch(to: "on" | "off"): void {
    if (to === "off") this.extinguish();
    this.wanted = to === "on";
  }

  /** The mains failed or the electronics cut the light: a hot lamp has to cool first. */
  extinguish(): void {
    if (this.lit_s > 0 && this.build.kind === "lamp") this.wait_s = this.build.restrike_s;
    this.lit_s = 0;
    this.output = 0;
  }

  /** Plays one frame without mains: what was hot cools meanwhile. */
  cool(): void {
    this.output = 0;
    this.wait_s = Math.max(this.delay(), this.wait_s - FRAME_SECONDS);
  }

  /** Plays one frame of the lamp. Nothing strikes before homing is over. */
  advance(moment: SourceMoment): void {
    if (this.lit_s > 0) this.burn(moment);
    else if (this.wanted && !moment.homing) this.strike(moment);
  }

  private strike(moment: SourceMoment): void {
    this.wait_s -= FRAME_SECONDS;
    if (this.wait_s > 0) return;
    if (this.troubles.every(({ strikes }) => strikes?.(moment) ?? true)) this.burn(moment);
    else this.wait_s = TRIES_EVERY_S;
  }

  private burn(moment: SourceMoment): void {
    if (this.troubles.some(({ drops }) => drops?.(moment) ?? false)) {
      this.extinguish();
      return;
    }
    this.lit_s += FRAME_SECONDS;
    const { build } = this;
    const warm = build.kind === "led" ? 1 : Math.min(1, AT_STRIKE + (1 - AT_STRIKE) * (this.lit_s / build.warmUp_s));
    this.output = warm * this.troubles.reduce((share, { gives }) => share * (gives?.(moment) ?? 1), 1);
  }

  private delay(): Seconds {
    return this.build.kind === "lamp" ? this.build.strikeDelay_s : 0;
  }
}

/** A dimmer or an emitter: no moving part, follows its slots at once. */
export class Light implements SimPart {
  readonly function;
  private at = 0;
  private readonly demand = new Delay<number>(0.025);
  constructor(build: LightBuild) {
    this.function = build.function;
  }

  obey(levels: readonly number[]): void {
    this.at = this.demand.pass(levelShare(levels));
  }

  beginHoming(): undefined {
    this.at = 0;
    return undefined;
  }

  show(): PartScene {
    return { kind: "light", function: this.function, at: this.at, speed: 0, trembles: 0, sounds: SILENCE };
  }
}
