import type { Conclusion, Moved } from "../../data/rack/what-moved.ts";
import type { Ranked } from "../../diagnosis/model/rank.ts";
import type { Assessment } from "../../diagnosis/places/assessment.ts";
import type { FollowUp } from "../../diagnosis/places/follow-up.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { CoverId, HoldPointId } from "../../domain/trade/hold-points.ts";
import type { InspectionId } from "../../domain/trade/inspections.ts";
import type { Seconds } from "../../domain/units.ts";
import type { ToAndFro } from "../../plan/slow-moves.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { EventBody, ReportedSymptom } from "../events/event.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import { emptyRun, type RunView, viewOf } from "../events/view.ts";
import type { HoldPoint } from "../machine/clearance.ts";
import { type Commanded, leftAt, NOTHING_COMMANDED, type StandsAt } from "../machine/commanded.ts";
import type { Diagnosis } from "../machine/diagnose.ts";
import type { RigConduct } from "../machine/input.ts";
import type { HowEnded, Running } from "../machine/running.ts";
import type { History } from "../release/history.ts";
import { sinceRelease } from "../release/release-status.ts";
import { type HandTask, handQuestion } from "./by-hand/task.ts";
import type { Job, Next } from "./job.ts";
import type { AdviceGround, Offered } from "./offered.ts";

/** One playing of a sequence, as a value: what is to be done, what is known, what happens just now. */
export interface Session extends Running {
  readonly job: Job;
  readonly view: RunView;
  /** The events behind the view, in order: what a fixture's standing is calculated from. */
  readonly told: readonly EventBody[];
  readonly stage: Stage;
  /** Since when somebody has been watching without a rest, on the run's clock. */
  readonly watchingSince: Seconds;
  readonly litSince: Seconds | undefined;
  /** Steps played and not yet answered for. */
  readonly group: readonly Played[];
  /** Those of these steps that were marked as wrong: each is asked about by itself. */
  readonly markedWrong: readonly number[];
  /** The latest diagnosis, and what it was made from. */
  readonly diagnosed: { readonly of: DiagnosedFrom; readonly diagnosis: Diagnosis } | undefined;
  /** What was written of this fixture before this run and still counts: all since it was last signed off. */
  readonly episode: History;
  readonly commanded: Commanded;
  /** Where it was last commanded to stand when an earlier part of this run was left; whether it still stands there nobody knows. */
  readonly leftAt: StandsAt | undefined;
  /** Hold points that hold just now: they lapse when power returns, and with the session. */
  readonly holds: readonly HoldPointId[];
  /** Driven tests that could tell more were offered before it was opened. */
  readonly advised: boolean;
  /** The inspection that was chosen of what was offered, until it is answered. */
  readonly chosen: InspectionId | undefined;
  /** How many more inspections follow a chosen one by themselves, as long as they need no other cover off. */
  readonly inOneGo: number;
  /** How many events had been told when a person last said that nothing more was found. */
  readonly named: number;
  /** Nobody wants more clean passes of what came and went. */
  readonly enough: boolean;
  /** How many events are on disk. */
  readonly stored: number;
}

export interface Played {
  readonly index: number;
  readonly start: Seconds;
  readonly end: Seconds;
  readonly rig: RigConduct;
  /** The line was lost, or nothing could be sent for a while, in the middle of it. */
  readonly lost: boolean;
}

/** What a diagnosis is made from. The same is not diagnosed twice. */
export interface DiagnosedFrom {
  readonly steps: RunView["steps"];
  readonly inspected: RunView["inspected"];
  readonly person: string;
  /** Covers that are off. */
  readonly open: readonly CoverId[];
}

/** Where a session goes on once it has its diagnosis. */
export type AfterDiagnosis =
  /** What was pressed in this step is placed, or the next question is asked. */
  | { readonly kind: "place"; readonly index: number }
  | { readonly kind: "go-on" }
  /** What was it? */
  | { readonly kind: "name-fault" };

/** What happens just now; each stage carries only what is true in it. */
export type Stage =
  | { readonly kind: "opening" }
  /** A hold point to be confirmed before what comes next. */
  | { readonly kind: "holding"; readonly point: HoldPoint; readonly next: Next; readonly stirs: Stirs }
  | { readonly kind: "slow-start"; readonly next: Next; readonly stirs: Stirs }
  | {
      readonly kind: "moving";
      readonly index: number;
      readonly attempt: number;
      readonly step: CompiledStep;
      readonly since: Seconds;
      readonly lost: boolean;
    }
  | {
      readonly kind: "asking";
      readonly index: number;
      readonly attempt: number;
      readonly symptoms: readonly ReportedSymptom[];
      readonly note: string;
    }
  | { readonly kind: "confirming"; readonly indexes: readonly number[] }
  /** The wrong thing or nothing moved: one function is stirred, to see what moves instead. */
  | { readonly kind: "stirring"; readonly index: number; readonly ask: FunctionId; readonly answers: readonly Moved[] }
  | {
      readonly kind: "what-moved";
      readonly index: number;
      readonly ask: FunctionId;
      readonly answers: readonly Moved[];
    }
  | {
      readonly kind: "setting-found";
      readonly index: number;
      readonly answers: readonly Moved[];
      readonly conclusion: Conclusion;
    }
  /** What may be wrong is being worked out beside the frames; then it goes on by itself. */
  | { readonly kind: "diagnosing"; readonly of: DiagnosedFrom; readonly purpose: AfterDiagnosis }
  | Placed
  /** Back at a place that was found, working to and fro there. */
  | { readonly kind: "at-spot"; readonly placed: Placed; readonly spot: ToAndFro; readonly step: CompiledStep }
  /** All planned steps are answered; these could tell more. */
  | {
      readonly kind: "what-next";
      readonly offers: readonly Offered[];
      /** What the test before did to the first place, in words. */
      readonly change: string;
      readonly ground: AdviceGround;
    }
  | { readonly kind: "by-hand"; readonly task: HandTask }
  | { readonly kind: "paused"; readonly why: "freeze" | "away"; readonly next: Next }
  | {
      readonly kind: "line-lost";
      readonly words: string;
      readonly back: boolean;
      readonly next: Next;
      /** The question that was open, to be asked again; undefined when something moved or was about to. */
      readonly asked: Stage | undefined;
    }
  /** Another interface answers than the one before: nothing is sent to it until a person agrees, then `before` goes on. */
  | {
      readonly kind: "other-interface";
      readonly words: string;
      readonly identity: InterfaceIdentity;
      readonly before: Stage;
    }
  | { readonly kind: "finished"; readonly how: HowEnded };

/** A stage of one kind, with what is true in it. */
export type StageOf<K extends Stage["kind"]> = Extract<Stage, { kind: K }>;

/** Where the step itself is not played but one function after the other is stirred: what was answered so far. */
export type Stirs = readonly Moved[] | undefined;

/** The step that was just answered was pressed in: where in the travel that was, and what would tell more. */
export interface Placed {
  readonly kind: "placed";
  readonly index: number;
  readonly function: FunctionId;
  readonly assessment: Assessment;
  readonly tests: readonly FollowUp[];
  /** The likeliest of all faults, with this calculated in. */
  readonly faults: readonly Ranked[];
}

/** The question that is open now, for keys to name. Undefined when no answer is wanted. */
export const questionOf = ({ stage, view }: Session): string | undefined => {
  switch (stage.kind) {
    case "moving":
      return `${stage.index}.${stage.attempt}`;
    case "asking":
      return `${stage.index}.${stage.attempt}?`;
    case "holding":
      return `${stage.point}:${stage.next.index}`;
    case "slow-start":
      return `slow-start:${stage.next.index}`;
    case "stirring":
      return `stir:${stage.index}.${stage.answers.length}`;
    case "what-moved":
      return `moved:${stage.index}.${stage.answers.length}`;
    case "setting-found":
      return `setting:${stage.index}.${stage.answers.length}`;
    case "diagnosing":
      return `diagnosis:${view.count}`;
    case "placed":
      return `placed:${stage.index}.${view.added.length}`;
    case "at-spot":
      return `spot:${stage.placed.index}.${view.added.length}`;
    case "what-next":
      return `next:${view.added.length}`;
    case "by-hand":
      return handQuestion(stage.task, view.count);
    case "confirming":
      return `watched:${stage.indexes.join(",")}`;
    case "paused":
      return `${stage.why}:${stage.next.index}.${stage.next.frame}`;
    case "line-lost":
      return `line:${stage.next.index}.${stage.next.frame}${stage.back ? ":back" : ""}`;
    case "other-interface":
      return `interface:${stage.identity.number}:${stage.identity.usb}`;
    default:
      return undefined;
  }
};

/** A session about to begin; with the events of an unfinished run it goes on where that one stopped. */
export const openSession = (job: Job, person: string, earlier: readonly EventBody[] = []): Session => ({
  job,
  person,
  view: earlier.length > 0 ? viewOf(earlier) : emptyRun,
  told: earlier,
  stage: { kind: "opening" },
  now: 0,
  watchingSince: 0,
  litSince: undefined,
  signs: [0],
  group: [],
  markedWrong: [],
  cleared: false,
  slowShown: false,
  diagnosed: undefined,
  episode: sinceRelease(job.past, job.fitted).episode,
  commanded: NOTHING_COMMANDED,
  leftAt: leftAt(job.timeline, earlier),
  holds: [],
  advised: false,
  chosen: undefined,
  inOneGo: 0,
  named: 0,
  enough: false,
  stored: earlier.length,
  trouble: undefined,
});
