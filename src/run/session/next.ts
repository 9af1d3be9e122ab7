import type { Frame } from "../../domain/units.ts";

/** Where to go on: a step, from one of its frames; `lost` when its line was lost on the way. */
export interface Next {
  readonly index: number;
  readonly frame: Frame;
  readonly pace: number;
  readonly lost: boolean;
}
