import type { Frame, Milliseconds, Seconds } from "../domain/units.ts";
import { type Batch, lookedAtAlone, memberAt, type RackStage } from "../run/batch/batch.ts";
import type { Session, Stage, StageOf } from "../run/session/session.ts";
import type { Desk } from "./desk.ts";
import type { KeyPlan } from "./key-plan.ts";
import type { Seen } from "./seen.ts";

/** Everything a page is drawn from, of one fixture or of many, as it is in one moment. */
export interface Sight {
  readonly batch: Batch;
  readonly desk: Desk;
  readonly plan: KeyPlan;
  /** The frame of the step that is being sent. */
  readonly frame: Frame;
  /** What simulated fixtures show, in the order of the rack; undefined for real ones, where nobody can know. */
  readonly shown: readonly (Seen | undefined)[];
  /** Milliseconds of whoever looks, as in `shown`. */
  readonly at: Milliseconds;
  /** Since the last press. */
  readonly sincePress: Seconds;
  /** Since the last key. */
  readonly quiet: Seconds;
  /** The page has stood long enough for a key to answer it. */
  readonly listening: boolean;
  /** Why the last key did not answer; undefined when it did. */
  readonly refused: "too soon" | "still held" | undefined;
  /** Something to be told besides: that the system cannot speak. */
  readonly notice: string | undefined;
  readonly size: Size;
  readonly letters: "usual" | "several rows high";
}

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** The same of a fixture that is looked at alone, and of every run of one: with its own run, and what it shows. */
export interface AloneSight extends Sight {
  readonly session: Session;
  readonly seen: Seen | undefined;
}

/** The sight of the fixture that is looked at alone; undefined while several are watched. */
export const aloneIn = (sight: Sight): AloneSight | undefined => {
  const { batch, shown } = sight;
  const alone = lookedAtAlone(batch);
  return alone && { ...sight, session: alone.session, seen: shown[batch.members.indexOf(alone)] };
};

export type Moving = StageOf<"moving">;
export type AskingStage = StageOf<"asking">;

/** What a run of several does while none of them is looked at alone. */
export type TogetherStage = Exclude<RackStage, { kind: "alone" }>;

/** What is done now, as whoever watches sees it: the stage of the fixture that is looked at alone, else that of all. */
export const stageIn = (batch: Batch): Stage | TogetherStage => {
  const { stage } = batch;
  return stage.kind === "alone" ? memberAt(batch, stage.member).session.stage : stage;
};
