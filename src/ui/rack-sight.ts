import type { Frame, Seconds } from "../domain/units.ts";
import type { Batch, RackStage } from "../run/batch/batch.ts";
import type { Spectacle } from "../run/ports.ts";
import type { KeyPlan } from "./key-plan.ts";
import type { Asks } from "./pages-out.ts";
import type { RackDesk } from "./rack-desk.ts";
import type { Size } from "./sight.ts";

/** Everything the rack view is drawn from, as it is in one moment. */
export interface RackSight {
  readonly batch: Batch;
  readonly desk: RackDesk;
  readonly plan: KeyPlan;
  /** Of the step that is out. */
  readonly frame: Frame;
  /** What simulated fixtures show, in the order of the rack; undefined for real ones. */
  readonly seen: readonly (Spectacle | undefined)[];
  /** Since the last key. */
  readonly quiet: Seconds;
  /** The page has stood long enough for a key to answer it; why the last key did not. */
  readonly listening: boolean;
  readonly refused: "too soon" | "still held" | undefined;
  readonly notice: string | undefined;
  readonly size: Size;
  readonly letters: "usual" | "several rows high";
}

/** What was on the screen when a key was pressed. */
export interface RackDrawn extends Asks {
  readonly batch: Batch;
}

export type RackStageOf<K extends RackStage["kind"]> = Extract<RackStage, { kind: K }>;
