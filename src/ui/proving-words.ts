import type { Profile } from "../data/profile/profile.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { secondsOf } from "../domain/units.ts";
import type { CompiledStep } from "../plan/timeline.ts";
import { spanInWords } from "../reports/span.ts";
import { guardedBy } from "../run/batch/guarded.ts";
import type { Session } from "../run/session/session.ts";
import { expected } from "../run/verification/questions.ts";
import { anyOf, keyPlan, keyWords } from "./key-plan.ts";

/** How to answer what has been said; nothing while no answer is taken. */
export const answeringInWords = ({ stage, job }: Session): readonly string[] => {
  const { own, stop } = keyPlan(job.bench.buttons);
  const guarded = guardedBy(stage);
  if (guarded === undefined) return [];
  const so = AGREED[stage.kind] ?? "all of this is confirmed";
  return [`${keyWords(own[guarded])} and ENTER: ${so}. If not: ${anyOf(stop)}, or stop and ENTER.`];
};

const AGREED: Partial<Record<Session["stage"]["kind"], string>> = {
  "line-lost": "I am here, the area is clear, continue",
  "other-interface": "this is the right interface, use it",
};

/** What is said when a proof comes to something new. */
export const provingInWords = (session: Session): readonly string[] => {
  const { stage, job } = session;
  switch (stage.kind) {
    case "slow-start":
      return ["Slow movement first, dark: pan and tilt a little, for 3 seconds. Stand clear."];
    case "moving":
      return movingInWords(session, stage.step, stage.index);
    case "line-lost":
      return stage.back
        ? ["The line is back. The fixture is dark."]
        : [`The DMX line is lost: ${safeText(stage.words)} Limber tries it again every second.`];
    case "other-interface":
      return [`${safeText(stage.words)}. Nothing is sent to it until you agree.`];
    case "finished":
      return stage.how === "finished"
        ? []
        : [`It ${stage.how === "stopped" ? "was stopped" : "cannot go on"} at ${job.sequence.title}.`];
    default:
      return [];
  }
};

const movingInWords = ({ job }: Session, step: CompiledStep, index: number): readonly string[] => {
  const { profile, steps } = job.timeline;
  const head = `Step ${index + 1} of ${steps.length}, ${spanInWords(secondsOf(step.frames))}. ${whatMoves(profile, step)}`;
  return [head, ...step.notes.map((note) => `  ${safeText(note)}`), ...(isTimed(profile, step) ? [PRESS] : [])];
};

const whatMoves = ({ functions }: Profile, step: CompiledStep): string => {
  const [id] = step.functions;
  const spec = id === undefined ? undefined : functions.get(id);
  if (id === undefined || !spec) return "";
  return step.routine === "identify"
    ? `${functionWords(id)} alone is commanded to move a little.`
    : safeText(expected(id, spec));
};

const PRESS = "  ENTER each time it stops.";

/** Only where something travels there is a time to take. */
const isTimed = (profile: Profile, step: CompiledStep): boolean =>
  step.routine === "in-and-out" && step.functions.every((id) => profile.functions.get(id)?.kind === "travel");
