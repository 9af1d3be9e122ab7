import type { Profile } from "../../data/profile/profile.ts";
import { type DelaySample, delaySample } from "../../diagnosis/places/constants.ts";
import type { Tally } from "../../diagnosis/places/detection.ts";
import { kindOf } from "../../diagnosis/places/known.ts";
import { pressTimes } from "../../diagnosis/places/watch.ts";
import { mean } from "../../domain/statistics/sample.ts";
import { type Seconds, secondsOf } from "../../domain/units.ts";
import type { Attempt } from "./attempts.ts";
import type { BodyOf, RunEvent } from "./event.ts";
import { placedIn } from "./placed.ts";
import { type RunView, type StepView, viewOf } from "./view.ts";

/** A step of a practice run: whether something showed in it, and whether that was called. */
export interface PractisedStep {
  readonly step: StepView;
  readonly came: "caught" | "missed" | "false alarm" | "passed correctly";
  /** What there was to be noticed. */
  readonly shown: BodyOf<"shown">;
}

/** Every step that was watched and answered for, beside what there was to be noticed in that very attempt. */
export const practisedIn = ({ steps, shown }: RunView): readonly PractisedStep[] =>
  steps.flatMap((step): readonly PractisedStep[] => {
    const there = shown.findLast((one) => one.step === step.id && one.attempt === step.attempt);
    const result = step.judged?.result;
    if (!there || (result !== "pass" && result !== "fail" && result !== "unsure")) return [];
    const showed = there.frames.length > 0 || there.symptoms.length > 0;
    const called = result !== "pass";
    const came = showed ? (called ? "caught" : "missed") : called ? "false alarm" : "passed correctly";
    return [{ step, came, shown: there }];
  });

/** How many steps were caught, missed, called without reason, and passed correctly. */
export const practiceTally = (steps: readonly PractisedStep[]): Tally => {
  const count = (came: PractisedStep["came"]) => steps.filter((one) => one.came === came).length;
  return {
    hits: count("caught"),
    misses: count("missed"),
    falseAlarms: count("false alarm"),
    rightlyQuiet: count("passed correctly"),
  };
};

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

/** From the moment something showed until the press: in practice that is known, and the fixture's lag has no part in it. */
export const practiceSamples = (view: RunView, person: string, kind: string): readonly DelaySample[] => {
  const delays = view.steps.flatMap(({ id, attempts }) =>
    attempts.map((attempt) =>
      delaysIn(
        attempt,
        view.shown.findLast((one) => isOf(one, id, attempt)),
      ),
    ),
  );
  const taken = delays.flatMap((one) => one.taken);
  const crossings = delays.reduce((sum, one) => sum + one.of, 0);
  if (taken.length === 0) return [];
  return [{ person, profile: kind, speed: 0, delay: mean(taken), presses: taken.length, crossings, lag: 0 }];
};

const isOf = (shown: BodyOf<"shown">, step: string, { number }: Attempt): boolean =>
  shown.step === step && shown.attempt === number;

/** What shows again within this is the same thing to a person. */
const ONE_THING_S: Seconds = 0.8;
/** Sooner nobody can have pressed for it, later it was for something else. */
const REACTION_S = { least: 0.12, most: 1.5 };

const delaysIn = ({ presses }: Attempt, shown: BodyOf<"shown"> | undefined) => {
  const moments = (shown?.frames ?? [])
    .map(secondsOf)
    .filter((at, i, all) => i === 0 || at - (all[i - 1] ?? 0) > ONE_THING_S);
  const times = pressTimes(presses);
  const taken = moments.flatMap((at) => {
    const press = times.find((time) => time - at >= REACTION_S.least && time - at <= REACTION_S.most);
    return press === undefined ? [] : [press - at];
  });
  return { taken, of: moments.length };
};
