import type { Bench } from "../../data/bench/bench.ts";
import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { type Advice, whatNext } from "../../diagnosis/model/next.ts";
import { drivableOn } from "../../diagnosis/model/probe.ts";
import { type Ranking, rank, sayChange } from "../../diagnosis/model/rank.ts";
import type { Learned } from "../../diagnosis/model/shop.ts";
import type { Constants } from "../../diagnosis/places/constants.ts";
import { type FollowUp, followUps } from "../../diagnosis/places/follow-up.ts";
import { kindOf, knownOf } from "../../diagnosis/places/known.ts";
import type { CoverId } from "../../domain/trade/hold-points.ts";
import type { StepResult } from "../../domain/trade/routines.ts";
import { settingAfter } from "../../plan/compile.ts";
import { fromStored } from "../../plan/stored.ts";
import { answersOf, observationsOf } from "../events/observations.ts";
import { type PlacedPresses, placedIn } from "../events/placed.ts";
import { resultOf, stepsOfLastTest } from "../events/step-results.ts";
import type { RunView } from "../events/view.ts";

/** Everything that a diagnosis is made from. It travels between threads, so it holds data only. */
export interface Findings {
  readonly profile: Profile;
  readonly bench: Bench;
  /** What the run says so far. */
  readonly view: RunView;
  readonly simulated: boolean;
  /** Who watched, by initials; empty when nobody gave any. */
  readonly person: string;
  readonly learned: Learned;
  readonly constants: Constants;
  /** What was answered last, of what was offered. */
  readonly latest: "a test" | "an inspection";
  /** Covers that are off just now. */
  readonly open: readonly CoverId[];
}

/** What may be wrong in the light of a run so far, and what to do next. */
export interface Diagnosis {
  readonly ranking: Ranking;
  readonly advice: Advice;
  /** What the last test that was added did to the first place; empty where there was none. */
  readonly change: string;
  /** Where in their travel functions were pressed, and what would tell more of each. */
  readonly places: readonly PlaceFound[];
}

export interface PlaceFound extends PlacedPresses {
  /** The test that tells most comes first. */
  readonly tests: readonly FollowUp[];
}

/**
 * Names what may be wrong, where it happened, and what would tell more. It takes up to a second of the processor, so it is
 * asked for by an effect and never worked out on the thread that sends frames.
 */
export const diagnose = (findings: Findings): Diagnosis => {
  const { profile, bench, view, simulated, person, learned, constants, latest, open } = findings;
  const known = knownOf(constants, person, kindOf({ name: profile.name, simulated }));
  const seen = [
    fittedOf(profile),
    observationsOf(view, profile, known, "may still be asked"),
    answersOf(view),
  ] as const;
  const ranking = rank(...seen, learned);
  return {
    ranking,
    advice: whatNext(...seen, open, learned, drivableOn(profile, bench)),
    change: changeBy(view, latest, ranking, (earlier) =>
      rank(fittedOf(profile), observationsOf(earlier, profile, known), answersOf(earlier), learned),
    ),
    places: placedIn(view, profile, known).map((placed) => ({ ...placed, tests: testsFor(findings, placed) })),
  };
};

/** What the last test that was added, or the last inspection, did to the first place; empty where there was none, or nobody said what came of it. */
export function changeBy(
  view: RunView,
  latest: Findings["latest"],
  now: Ranking,
  judged: (earlier: RunView) => Ranking,
): string {
  if (latest === "an inspection")
    return sayChange(judged({ ...view, inspected: view.inspected.slice(0, -1) }), now, "the last inspection");
  const steps = stepsOfLastTest(view);
  const isAnswered = steps > 0 && view.steps.slice(-steps).some((step) => ANSWERS.has(resultOf(step)));
  return isAnswered ? sayChange(judged({ ...view, steps: view.steps.slice(0, -steps) }), now, "the last test") : "";
}

const ANSWERS: ReadonlySet<StepResult> = new Set(["pass", "fail", "unsure"]);

const MOST_TESTS = 3;

/** What would settle the pattern, or tell more once it is settled; from where its last step left the fixture. */
const testsFor = ({ profile, bench, view }: Findings, { step, function: id, assessment }: PlacedPresses) => {
  const planned = [...(view.opened?.steps ?? []), ...view.added][step];
  if (!planned) throw new Error(`Bug: step ${step} was pressed in and never planned`);
  const rig = { profile, bench, before: settingAfter(fromStored(profile, planned)) };
  return followUps(rig, id, assessment).slice(0, MOST_TESTS);
};
