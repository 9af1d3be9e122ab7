import { parseProfile } from "../../data/profile/parse.ts";
import type { Profile } from "../../data/profile/profile.ts";
import { type Case, CLEAN } from "../../diagnosis/model/case.ts";
import { grouped } from "../../domain/keys.ts";
import { casesOf, lessonOf, passedAgain } from "./cases.ts";
import type { BodyOf, RunEvent } from "./event.ts";
import { passedWhole, type RunSummary, summaryOf } from "./summary.ts";
import { viewOf } from "./view.ts";

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

/** What is kept of each run in these events, in the order in which they were begun. */
export const digestsOf = (events: readonly RunEvent[], profileOf: ProfileOf): readonly Digest[] =>
  grouped(events, ({ run }) => run).flatMap((ofRun) => digestOf(ofRun, profileOf) ?? []);

/** What all of these runs teach together. */
export const casesIn = (digests: readonly Digest[]): readonly Case[] =>
  casesOf(
    digests.flatMap(({ brief: { run }, lesson }) => (lesson ? [{ run, lesson }] : [])),
    new Set(digests.flatMap(({ brief }) => passedAgain(brief) ?? [])),
  );

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
