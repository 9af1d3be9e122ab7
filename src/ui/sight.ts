import type { Frame, Milliseconds, Seconds } from "../domain/units.ts";
import type { Batch } from "../run/batch/batch.ts";
import type { Spectacle } from "../run/ports.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import type { Desk, RackDesk } from "./desk.ts";
import type { KeyPlan } from "./key-plan.ts";
import type { Seen } from "./seen.ts";

/** What every page is drawn from, of one fixture or of many, as it is in one moment. */
export interface AnySight {
  readonly plan: KeyPlan;
  /** The frame of the step that is being sent. */
  readonly frame: Frame;
  /** Since the last key. */
  readonly quiet: Seconds;
  /** The page has stood long enough for a key to answer it. */
  readonly listening: boolean;
  /** Why the last key did not answer; undefined when it did. */
  readonly refused: "too soon" | "still held" | undefined;
  readonly size: Size;
  readonly letters: "usual" | "several rows high";
}

/** Everything the page of one fixture is drawn from. */
export interface Sight extends AnySight {
  readonly session: Session;
  readonly desk: Desk;
  /** What a simulated fixture shows; undefined on a real bench, where nobody can know. */
  readonly seen: Seen | undefined;
  /** Milliseconds of whoever looks, as in `seen`. */
  readonly at: Milliseconds;
  /** Since the last press. */
  readonly sincePress: Seconds;
  /** Something to be told besides: that the system cannot speak. */
  readonly notice: string | undefined;
}

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

export type Moving = StageOf<"moving">;
export type AskingStage = StageOf<"asking">;

/** Everything the page of several fixtures is drawn from. */
export interface RackSight extends AnySight {
  readonly batch: Batch;
  readonly desk: RackDesk;
  /** What simulated fixtures show, in the order of the rack; undefined for real ones. */
  readonly seen: readonly (Spectacle | undefined)[];
  readonly notice: string | undefined;
}

/** What was on the screen when a key was pressed: the key answers that, whatever has happened since. */
export interface RackDrawn {
  readonly batch: Batch;
  readonly question: string | undefined;
}
