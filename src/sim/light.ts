import type { LightBuild } from "./build.ts";
import { Delay } from "./delay.ts";
import { type SimPart, shareOf } from "./part.ts";
import { type PartScene, SILENCE } from "./scene.ts";

/** A dimmer or an emitter: no moving part, follows its slots at once. */
export class Light implements SimPart {
  readonly function;
  private at = 0;
  private readonly demand = new Delay<number>(0.025);
  constructor(build: LightBuild) {
    this.function = build.function;
  }

  obey(levels: readonly number[]): void {
    this.at = this.demand.pass(shareOf(levels));
  }

  beginHoming(): undefined {
    this.at = 0;
    return undefined;
  }

  show(): PartScene {
    return { kind: "light", function: this.function, at: this.at, speed: 0, trembles: 0, sounds: SILENCE };
  }
}
