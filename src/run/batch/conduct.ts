import type { Changed } from "../machine/running.ts";
import type { FixtureQuestion } from "../session/asked.ts";

import type { Timed } from "../session/input.ts";
import type { RackEffect, Spot } from "./effect.ts";
import type { RackWorld } from "./input.ts";

/** A run of one fixture or of many, as the shell plays it. */
export interface Conduct<State, Said> {
  readonly opening: State;
  /** Everything that is sent the rest state before the beginning and at the end. */
  readonly spots: readonly Spot[];
  /** Which fixtures are to be asked something just now. */
  readonly asks: (state: State) => readonly FixtureQuestion[];
  readonly step: (state: State, input: Timed<Said | RackWorld>) => Changed<State, RackEffect>;
}
