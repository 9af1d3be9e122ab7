import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import type { Case } from "../../diagnosis/model/case.ts";
import { caseFrom } from "../../diagnosis/model/case.ts";
import { FAULTS, type FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import { wholeTrade } from "../../diagnosis/model/learn.ts";
import type { InspectionAnswer } from "../../diagnosis/model/observation.ts";
import { answersOf, observationsOf } from "./observations.ts";
import { passedWhole, type RunSummary } from "./summary.ts";
import type { RunView } from "./view.ts";

/**
 * What one run teaches by itself. Undefined where it teaches nothing: for a simulated run, and where nobody said what was
 * found. What nobody looked for is still unknown.
 */
export const lessonOf = (view: RunView, profile: Profile): Case | undefined => {
  if (view.opened?.simulated !== false || view.found.length === 0) return undefined;
  const answers = answersOf(view);
  const confirmed = view.found.flatMap((found) => (found.what === "fault" ? [found.fault] : []));
  const outcome = { confirmed, cleared: clearedBy(answers, confirmed), rest: "unknown" } as const;
  return telling(caseFrom(fittedOf(profile), observationsOf(view, profile), answers, outcome));
};

/** A finding that none of the confirmed faults can show teaches nothing of them, and would be most of what is kept. */
const telling = (lesson: Case): Case => {
  const shown = wholeTrade().symptoms.filter(({ links }) => lesson.confirmed.some((fault) => (links[fault] ?? 0) > 0));
  const ids = new Set(shown.map(({ id }) => id));
  return { ...lesson, findings: lesson.findings.filter(({ id }) => ids.has(id)) };
};

/** A run and what it teaches by itself. */
export interface Lesson {
  readonly run: string;
  readonly lesson: Case;
}

/** What was not found is known to be absent only when the fixture passed everything in a replay afterwards. */
export const casesOf = (lessons: readonly Lesson[], passedAfter: ReadonlySet<string>): readonly Case[] =>
  lessons.map(({ run, lesson }) => (passedAfter.has(run) ? { ...lesson, rest: "absent" } : lesson));

/**
 * The run that was passed whole when this one played it again; undefined where this one played none again or did
 * not pass it, and on the simulated bench.
 */
export const passedAgain = (brief: RunSummary): string | undefined =>
  !brief.simulated && passedWhole(brief) ? brief.replays : undefined;

/** Looked for where it shows best, and not there. */
const clearedBy = (answers: readonly InspectionAnswer[], confirmed: readonly FaultId[]): readonly FaultId[] =>
  FAULTS.filter(({ id, found }) => {
    const [best] = Object.entries(found).sort(([, a], [, b]) => b - a);
    return (
      best && !confirmed.includes(id) && answers.findLast(({ inspection }) => inspection === best[0])?.answer === "good"
    );
  }).map(({ id }) => id);
