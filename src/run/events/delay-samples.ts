import type { Profile } from "../../data/profile/profile.ts";
import { type DelaySample, delaySample } from "../../diagnosis/places/delay-sample.ts";
import { kindOf } from "../../diagnosis/places/known.ts";
import type { RunEvent } from "./event.ts";
import { placedIn } from "./placed.ts";
import { practiceSamples } from "./practice.ts";
import { viewOf } from "./view.ts";

/** What the settled places of a run tell of how late its watcher presses; nothing where several pressed, or nobody gave initials. */
export const delaySamplesOf = (events: readonly RunEvent[], profile: Profile): readonly DelaySample[] => {
  const view = viewOf(events.map(({ body }) => body));
  const person = whoPressed(events);
  if (!view.opened || person === undefined) return [];
  const kind = kindOf({ name: profile.name, simulated: view.opened.simulated });
  if (view.shown.length > 0) return practiceSamples(view, person, kind);
  return placedIn(view, profile).flatMap(({ assessment }) => delaySample(person, kind, assessment) ?? []);
};

/**
 * The one person who pressed in these events; undefined where nobody pressed, several did, or the presses have no initials.
 */
export const whoPressed = (events: readonly RunEvent[]): string | undefined => {
  const people = new Set(events.filter(({ body }) => body.kind === "pressed").map(({ person }) => person));
  const [only] = people;
  return people.size === 1 && only !== "" ? only : undefined;
};
