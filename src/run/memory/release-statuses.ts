import { fittedOf } from "../../data/profile/profile.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import type { ProfileOf } from "../events/digest.ts";
import type { RunEvent } from "../events/event.ts";
import { type History, historyOf, sinceKindChanged } from "../release/history.ts";
import { type ReleaseStatus, releaseStatusOf } from "../release/release-status.ts";

/** Where every fixture that has a serial number stands, by the key of that number (`identityKey`): one fixture, however it was spelt. */
export type ReleaseStatuses = ReadonlyMap<string, ReleaseStatus>;

/** The release status of a fixture by the rules of release, from all events of its runs in the order of writing. */
export const standingIn = (events: readonly RunEvent[], serial: string, profileOf: ProfileOf): ReleaseStatus => {
  const history = historyOf(events, serial);
  const fitted = everFitted(history, profileOf);
  return fitted ? releaseStatusOf(history, fitted) : UNREADABLE;
};

/**
 * All that a fixture has, by the profiles of all its runs since it became this kind: a run with a small profile does not make
 * the rest untested for ever. Undefined where the profile of its last run cannot be read.
 */
export const everFitted = (history: History, profileOf: ProfileOf): readonly Fitted[] | undefined => {
  const openings = sinceKindChanged(history).flatMap(({ body }) => (body.kind === "run-opened" ? [body.profile] : []));
  const profiles = openings.map(profileOf);
  if (!profiles.at(-1)) return undefined;
  const all = profiles.flatMap((profile) => (profile ? fittedOf(profile) : []));
  return [...new Map(all.map((one) => [one.function, one])).values()];
};

const UNREADABLE: ReleaseStatus = {
  state: "not-released",
  reasons: [{ rule: "tested", words: "the profile of its last run cannot be read any more" }],
  signed: undefined,
  level: undefined,
};
