import { parseProfile } from "../../data/profile/parse.ts";
import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { type Case, CLEAN, caseFrom } from "../../diagnosis/model/case.ts";
import { FAULTS, type FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import { wholeTrade } from "../../diagnosis/model/learn.ts";
import type { InspectionAnswer } from "../../diagnosis/model/observation.ts";
import { grouped } from "../../domain/keys.ts";
import type { BodyOf, RunEvent } from "./event.ts";
import { answersOf, observationsOf } from "./observations.ts";
import { passedWhole, type RunSummary, summaryOf } from "./summary.ts";
import { type RunView, viewOf } from "./view.ts";

/** All that is kept ready of a run beside its events, so that nobody reads them all again: derived, disposable. */
export interface Digest {
  readonly brief: RunSummary;
  readonly lesson: Case | undefined;
}

/** The profile a run was made from; undefined when it cannot be read any more. */
export type ProfileOf = (profile: BodyOf<"run-opened">["profile"]) => Profile | undefined;

/** What is kept of one run, from all its events in the order of writing; undefined for a run that never began. */
export const digestOf = (events: readonly RunEvent[], profileOf: ProfileOf): Digest | undefined => {
  const brief = summaryOf(events);
  if (!brief) return undefined;
  if (brief.simulated) return { brief, lesson: undefined };
  const clean = brief.finds.length === 0 && brief.replays === undefined && passedWhole(brief);
  return { brief, lesson: brief.finds.length > 0 ? lessonIn(events, profileOf) : clean ? CLEAN : undefined };
};

const lessonIn = (events: readonly RunEvent[], profileOf: ProfileOf): Case | undefined => {
  const view = viewOf(events.map(({ body }) => body));
  const profile = view.opened && profileOf(view.opened.profile);
  return profile && lessonOf(view, profile);
};

/**
 * What one run teaches by itself. Undefined where it teaches nothing: for a simulated run, and where nobody said what was
 * found. What nobody looked for is still unknown.
 */
const lessonOf = (view: RunView, profile: Profile): Case | undefined => {
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

/** Looked for where it shows best, and not there. */
const clearedBy = (answers: readonly InspectionAnswer[], confirmed: readonly FaultId[]): readonly FaultId[] =>
  FAULTS.filter(({ id, found }) => {
    const [best] = Object.entries(found).sort(([, a], [, b]) => b - a);
    return (
      best && !confirmed.includes(id) && answers.findLast(({ inspection }) => inspection === best[0])?.answer === "good"
    );
  }).map(({ id }) => id);

/** What is kept of each run in these events, in the order in which they were begun. */
export const digestsOf = (events: readonly RunEvent[], profileOf: ProfileOf): readonly Digest[] =>
  grouped(events, ({ run }) => run).flatMap((ofRun) => digestOf(ofRun, profileOf) ?? []);

/** What all of these runs teach together. */
export const casesIn = (digests: readonly Digest[]): readonly Case[] =>
  casesOf(
    digests.flatMap(({ brief: { run }, lesson }) => (lesson ? [{ run, lesson }] : [])),
    new Set(digests.flatMap(({ brief }) => passedAgain(brief) ?? [])),
  );

/** A run and what it teaches by itself. */
interface Lesson {
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

/** A reader of the profiles that runs have kept, which reads every text once: a shop has few profiles and many runs. */
export const readingProfiles = (): ProfileOf => {
  const read = new Map<string, Profile | undefined>();
  return ({ name, text }) => {
    if (!read.has(text)) read.set(text, profileIn(name, text));
    return read.get(text);
  };
};

const profileIn = (name: string, text: string): Profile | undefined => {
  const parsed = parseProfile(name, text);
  return parsed.ok ? parsed.value : undefined;
};
