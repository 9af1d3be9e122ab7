import type { Frame, Milliseconds, Seconds } from "../domain/units.ts";
import type { Batch, RackStage } from "../run/batch/batch.ts";
import type { Spectacle } from "../run/ports.ts";
import type { Session, Stage } from "../run/session/session.ts";
import type { Desk, RackDesk } from "./desk.ts";
import type { KeyPlan } from "./key-plan.ts";
import type { Asks } from "./pages-out.ts";
import type { Seen } from "./seen.ts";

/** Everything the screen is drawn from, as it is in one moment. */
export interface Sight {
  readonly session: Session;
  readonly desk: Desk;
  readonly plan: KeyPlan;
  /** The frame of the step that is being sent. */
  readonly frame: Frame;
  /** What a simulated fixture shows; undefined on a real bench, where nobody can know. */
  readonly seen: Seen | undefined;
  /** Milliseconds of whoever looks, as in `seen`. */
  readonly at: Milliseconds;
  /** Since the last key. */
  readonly quiet: Seconds;
  /** The page has stood long enough for a key to answer it. */
  readonly listening: boolean;
  /** Why the last key did not answer; undefined when it did. */
  readonly refused: "too soon" | "still held" | undefined;
  /** Since the last press. */
  readonly sincePress: Seconds;
  /** Something to be told besides: that the system cannot speak. */
  readonly notice: string | undefined;
  readonly size: Size;
  readonly letters: "usual" | "several rows high";
}

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

export type StageOf<K extends Stage["kind"]> = Extract<Stage, { kind: K }>;
export type Moving = StageOf<"moving">;
export type AskingStage = StageOf<"asking">;

/** Everything the rack view is drawn from, as it is in one moment. */
export interface RackSight {
  readonly batch: Batch;
  readonly desk: RackDesk;
  readonly plan: KeyPlan;
  /** The frame of the step that is being sent. */
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
