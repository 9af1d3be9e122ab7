import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { cleaning, DIRT } from "../domain/trade/cleanings.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { coverWords, HOLD_POINTS } from "../domain/trade/hold-points.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { READINGS } from "../domain/trade/readings.ts";
import { type Batch, lookedAtAlone, memberAt } from "../run/batch/batch.ts";
import { stepOf, turnOf } from "../run/batch/flow.ts";
import type { HandTask } from "../run/session/by-hand/task.ts";
import { stepAt } from "../run/session/job.ts";
import type { Stage } from "../run/session/session.ts";
import { type AloneSight, aloneIn, type Moving, type Sight, type TogetherStage } from "./sight.ts";
import { headlineOf } from "./step-words.ts";
import type { Headline } from "./view.ts";

/** Which fixture the page is about, or which rack. */
export const titleIn = (batch: Batch): string => {
  const job = lookedAtAlone(batch)?.session.job;
  if (!job) return safeText(batch.plan.title);
  return `${safeText(job.opening.fixture.serial)}, ${safeText(job.timeline.profile.title)}`;
};

/** Which step of how many it is, or which of several it is about, in words; "by hand", or "" where there is none. */
export const whereIn = (batch: Batch): string => {
  const { stage } = batch;
  const alone = lookedAtAlone(batch)?.session;
  if (alone) return stepInView(alone.stage, alone.job.timeline.steps.length);
  if ("universe" in stage) return `universe ${stage.universe}`;
  if (stage.kind === "own-address") return safeText(memberAt(batch, stage.member).serial);
  if (!("next" in stage) || (stage.kind === "holding" && stage.point === "before-moving")) return "";
  if (stage.kind === "holding" || (stage.kind === "which" && batch.plan.asks === "who-moved"))
    return safeText(turnOf(batch, stage.next).name);
  const [first = 0] = stage.next.members;
  return `step ${stage.next.index + 1} of ${memberAt(batch, first).session.job.opening.steps.length}`;
};

const stepInView = (stage: Stage, steps: number): string => {
  if (stage.kind === "by-hand") return "by hand";
  const about = stage.kind === "diagnosing" ? stage.purpose : stage;
  const index = "index" in about ? about.index : "next" in stage ? stage.next.index : undefined;
  return index === undefined ? "" : `step ${index + 1} of ${steps}`;
};

/** What the page is about: in capitals, and in few words for large letters. */
export const headline = (sight: Sight): Headline => {
  const alone = aloneIn(sight);
  return alone ? headlineOfOne(alone) : headlineOfAll(sight.batch);
};

const headlineOfOne = (sight: AloneSight): Headline => {
  const { session } = sight;
  const { stage } = session;
  switch (stage.kind) {
    case "moving":
      return { usual: headlineOf(stage.step), far: farHeadline(sight, stage) };
    case "asking":
      return { usual: `${headlineOf(stepAt(session.job, stage.index))}: what did you see?`, far: "What?" };
    case "stirring":
      return { usual: `commanded to move: ${functionWords(stage.ask)}`, far: functionWords(stage.ask) };
    case "what-moved":
      return { usual: "what moved?", far: "What moved?" };
    case "setting-found":
      return { usual: "how it is set", far: "Settings" };
    case "diagnosing":
      return { usual: "calculating the likely faults", far: "One moment" };
    case "placed":
      return { usual: `where it happened: ${functionWords(stage.function)}`, far: "Where" };
    case "at-spot":
      return { usual: `back at the fault position: ${functionWords(stage.placed.function)}`, far: "Position" };
    case "by-hand":
      return handHeadline(stage.task);
    case "what-next":
      return { usual: "what next?", far: "What next?" };
    default:
      return headlineOfAny(stage);
  }
};

const headlineOfAll = (batch: Batch): Headline => {
  const { stage } = batch;
  switch (stage.kind) {
    case "moving": {
      const words = headlineOf(stepOf(batch, stage.next));
      return { usual: words, far: words };
    }
    case "which":
      return { usual: batch.plan.asks === "who-moved" ? "which one moved?" : "which one was it?", far: "Which?" };
    case "between":
      return { usual: "all groups are done", far: "One by one" };
    case "own-address": {
      const { place } = memberAt(batch, stage.member);
      const far = stage.free === undefined ? "Unplug" : `Set ${stage.free}`;
      return { usual: `tell it apart: ${safeText(placeInWords(place))}`, far };
    }
    case "alone":
      return { usual: "alone", far: "alone" };
    default:
      return headlineOfAny(stage);
  }
};

/** What one fixture and several have in common. */
type AnyStage = Extract<
  Stage | TogetherStage,
  {
    kind: "holding" | "slow-start" | "confirming" | "paused" | "line-lost" | "other-interface" | "finished" | "opening";
  }
>;

const headlineOfAny = (stage: AnyStage): Headline => {
  switch (stage.kind) {
    case "holding":
      if (stage.point === "before-moving") return { usual: "before anything moves", far: "Clear?" };
      return { usual: "members" in stage.next ? "switch these on" : "switch the mains on", far: "Mains on" };
    case "slow-start":
      return { usual: "slow movement first", far: "Slow" };
    case "confirming":
      return { usual: "did you watch these?", far: "Watched?" };
    case "paused":
      return "why" in stage && stage.why !== "away"
        ? { usual: "standing still", far: "Still" }
        : { usual: "pause", far: "Pause" };
    case "line-lost":
      if (stage.back) return { usual: "the DMX line is back", far: "Line back" };
      return { usual: `${"universe" in stage ? "a" : "the"} DMX line is lost`, far: "Line lost" };
    case "other-interface":
      return { usual: "another interface", far: "Interface?" };
    case "finished":
      return stage.how === "finished" ? { usual: "finished", far: "Done" } : { usual: "stopped", far: "Stopped" };
    case "opening":
      return { usual: "one moment", far: "One moment" };
    default:
      return stage satisfies never;
  }
};

/** A press is answered large for a moment: from afar nothing else tells that it was felt. */
const farHeadline = ({ session, sincePress }: AloneSight, stage: Moving): string => {
  const count = session.view.steps[stage.index]?.presses.length ?? 0;
  return count > 0 && sincePress < 1 ? `Pressed ${count}` : headlineOf(stage.step);
};

/** The headline over something to be done by hand: in capitals, and in few words for large letters. */
const handHeadline = (task: HandTask): { readonly usual: string; readonly far: string } => {
  switch (task.kind) {
    case "hold-point":
      return { usual: `hold point, before ${HOLD_POINTS[task.point].before}`, far: "Hold point" };
    case "look":
      return { usual: `inspection, ${coverWords(inspection(task.inspection).cover)}`, far: "Inspect" };
    case "looks":
      return { usual: `inspection, ${coverWords(task.cover)}`, far: "Inspect" };
    case "dirt":
      return { usual: "how dirty is it?", far: "How dirty?" };
    case "cleans":
      return { usual: `clean: ${DIRT[task.dirt].words}`, far: "Clean" };
    case "clean":
      return { usual: `clean: ${cleaning(task.cleaning).what}`, far: "Clean" };
    case "reading":
      return { usual: `measure: ${READINGS[task.reading].words}`, far: "Measure" };
    case "blocked":
      return { usual: "no power before this is repaired", far: "No power" };
    case "fault":
      return { usual: "what was the fault?", far: "What fault?" };
    case "mend":
      return { usual: "repaired?", far: "Repaired?" };
    case "once-more":
      return { usual: "enough clean passes?", far: "Once more?" };
    case "sign":
      return { usual: task.reasons.length === 0 ? "sign off?" : "not ready yet", far: "Sign?" };
    default:
      return task satisfies never;
  }
};
