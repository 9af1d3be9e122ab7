import { fittedOf } from "../../data/profile/profile.ts";
import type { ProfileOf } from "../events/digest.ts";
import type { RunEvent } from "../events/event.ts";
import { historyOf } from "../release/history.ts";
import { type Standing, standingOf } from "../release/standing.ts";

/** Where every fixture that has a serial number stands, by the key of that number (`identityKey`): one fixture, however it was spelt. */
export type Standings = ReadonlyMap<string, Standing>;

/** By the rules of release, from all events of the fixture's runs in the order of writing. */
export const standingIn = (events: readonly RunEvent[], serial: string, profileOf: ProfileOf): Standing => {
  const history = historyOf(events, serial);
  const opening = history.findLast(({ body }) => body.kind === "run-opened")?.body;
  const profile = opening?.kind === "run-opened" ? profileOf(opening.profile) : undefined;
  return profile ? standingOf(history, fittedOf(profile)) : UNREADABLE;
};

const UNREADABLE: Standing = {
  state: "not-released",
  reasons: [{ rule: "tested", words: "the profile of its last run cannot be read any more" }],
  signed: undefined,
  level: undefined,
};
