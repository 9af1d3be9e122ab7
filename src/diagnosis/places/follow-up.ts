import type { Bench } from "../../data/bench/bench.ts";
import { type Profile, type Raw, type Travel, travelOf } from "../../data/profile/profile.ts";
import type { Step, StepOptions } from "../../data/sequence/sequence.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { type Probability, type Seconds, secondsOf } from "../../domain/units.ts";
import { compileStep } from "../../plan/compile.ts";
import { type Assessment, settledIn, turnedShort } from "./assessment.ts";
import { beliefsOf, type PatternBelief, UNKNOWN } from "./beliefs.ts";
import { usualDelay } from "./delay.ts";
import { speedsOf } from "./found-place.ts";
import { totalOf, type Unknowns } from "./likelihood.ts";
import { arrivalsOf, crossingsOf, type Watch, watchOf } from "./watch.ts";

type FollowUpKind = "short-sweep" | "second-speed" | "more-passes" | "other-axis";

/** A further test that would tell more about what was pressed for. */
export interface FollowUp {
  readonly kind: FollowUpKind;
  /** Ready to be played. */
  readonly step: Step;
  readonly seconds: Seconds;
  /** What it would tell, for a technician. */
  readonly tells: string;
  /** How likely it settles the pattern, calculated with typical presses; 1 where it is settled and something else is asked. */
  readonly settles: Probability;
}

/** The fixture and the bench it would be played on, from where everything stands. */
interface FollowUpBench {
  readonly profile: Profile;
  readonly bench: Bench;
  readonly before: ReadonlyMap<FunctionId, Raw>;
}

/** What would settle the pattern, the most likely to do so for its seconds first; once it is settled, what else is worth asking. */
export const followUps = (rig: FollowUpBench, id: FunctionId, assessment: Assessment): readonly FollowUp[] => {
  const { settled, watches } = assessment;
  const kinds = settled ? furtherQuestions(id, assessment) : openQuestions(assessment);
  return kinds
    .flatMap((kind): readonly FollowUp[] => {
      const step = stepOf(kind, id, assessment, rig.profile);
      const compiled = step && compileStep(rig.profile, rig.bench, step, rig.before, 1);
      const watch = compiled && watchOf(rig.profile, compiled, id, []);
      if (!step || !compiled || !watch) return [];
      const settles = settled ? 1 : chanceToSettle(watches, watch, assessment.beliefs);
      return [{ kind, step, seconds: secondsOf(compiled.frames), tells: TELLS[kind], settles }];
    })
    .sort((a, b) => b.settles / b.seconds - a.settles / a.seconds);
};

const TELLS: Readonly<Record<FollowUpKind, string>> = {
  "short-sweep": "what still happens does not come from an end",
  "second-speed": "tells play from reaction, and the slower speed narrows the place",
  "more-passes": "a fault of one place or direction comes again there, another one does not",
  "other-axis": "if the fault moves or goes away, it is the loom and not the drive",
};

/** A test that settles where it happens, as a technician says it. */
export const followUpWords = ({ kind }: FollowUp): string => WORDS[kind];

const WORDS: Readonly<Record<FollowUpKind, string>> = {
  "short-sweep": "sweep short of both ends",
  "second-speed": "the full sweep at another speed",
  "more-passes": "more passes of the same",
  "other-axis": "the same with the other axis in another position",
};

const openQuestions = ({ watches }: Assessment): readonly FollowUpKind[] =>
  turnedShort(watches) ? ["more-passes", "second-speed"] : ["short-sweep", "more-passes", "second-speed"];

const furtherQuestions = (id: FunctionId, { settled, place }: Assessment): readonly FollowUpKind[] => {
  const tied = settled?.pattern.kind === "position" || settled?.pattern.kind === "one-way";
  return [
    ...(settled?.pattern.kind === "position" && !place?.play ? (["second-speed"] as const) : []),
    ...(tied && OTHER_AXIS[id] ? (["other-axis"] as const) : []),
  ];
};

const OTHER_AXIS: Readonly<Partial<Record<FunctionId, FunctionId>>> = { Pan: "Tilt", Tilt: "Pan" };

const stepOf = (
  kind: FollowUpKind,
  id: FunctionId,
  { watches, beliefs }: Assessment,
  profile: Profile,
): Step | undefined => {
  const travel = watches[0]?.travel;
  const [speed] = speedsOf(watches.flatMap(({ passes }) => passes));
  if (!travel || speed === undefined) return undefined;
  const inset = likelyInset(beliefs, travel);
  const step = (routine: "sweep" | "short-sweep", options: StepOptions): Step => ({
    id: `${kind}-${id.toLowerCase().replaceAll("_", "-")}`,
    routine,
    functions: [id],
    options,
    line: 0,
  });
  switch (kind) {
    case "short-sweep":
      return step("short-sweep", { ...pace(travel, speed, 1 - (2 * inset) / 100), passes: 6, inset_pct: inset });
    case "more-passes":
      return step("sweep", { ...pace(travel, speed, 1), passes: 6 });
    case "second-speed":
      return step("sweep", { ...pace(travel, otherSpeed(travel, speed), 1), passes: 4 });
    case "other-axis":
      return step("sweep", { ...pace(travel, speed, 1), passes: 4, others: elsewhere(profile, id) });
  }
};

/** A third, unless that would take longer than anybody watches well: then three times. */
const otherSpeed = ({ from, to }: Travel, speed: number): number =>
  Math.abs(to - from) / (speed / 3) <= LONGEST_PASS_S ? speed / 3 : speed * 3;
const LONGEST_PASS_S: Seconds = 30;

/** A speed over a share of the travel, as a step says it. */
const pace = ({ unit, from, to }: Travel, speed: number, share: number): StepOptions =>
  unit === "deg" ? { deg_per_s: round(speed) } : { seconds: round((Math.abs(to - from) * share) / speed) };
const round = (value: number): number => Math.max(0.1, Math.round(value * 10) / 10);

/** The other axis far from the middle, so that the loom lies otherwise. */
const elsewhere = (profile: Profile, id: FunctionId): StepOptions["others"] => {
  const axis = OTHER_AXIS[id];
  const travel = axis && travelOf(profile, axis);
  return axis && travel ? { [axis]: travel.from + 0.85 * (travel.to - travel.from) } : {};
};

/** How many percent of the travel a short sweep stays from both ends, without another hint. */
const USUAL_INSET_PCT = 15;

/**
 * How far a short sweep stays from both ends, in percent of the travel: half as far as the place that rivals an end, so that
 * the place is still crossed and the end is not reached.
 */
export const likelyInset = (beliefs: readonly PatternBelief[], { from, to }: Travel): number => {
  const distances = beliefs
    .filter(({ belief, pattern }) => belief > 0.005 && (pattern.kind === "position" || pattern.kind === "one-way"))
    .flatMap(({ place }) => (place ? [100 * distanceFromEnd((place.at - from) / (to - from))] : []));
  return Math.min(USUAL_INSET_PCT, ...distances.map((distance) => Math.max(2, Math.floor(distance / 2))));
};

const distanceFromEnd = (share: number): number => Math.max(0, Math.min(share, 1 - share));

/** Enough to compare tests by. */
const COARSE: Unknowns = {
  ...UNKNOWN,
  shifts: [-0.2, -0.1, 0, 0.1, 0.2, 0.3, 0.4, 0.5],
  caught: [0.6, 0.9],
  stray: [0.02],
};
/** Patterns less believed in than this are not worth a look ahead. */
const NEGLIGIBLE: Probability = 0.03;

/**
 * How likely one more watch settles the pattern: over what may be behind the presses, as far as it is believed in, whether
 * the presses that are typical of it would settle it rightly.
 */
export const chanceToSettle = (
  watches: readonly Watch[],
  next: Watch,
  beliefs: readonly PatternBelief[],
): Probability =>
  beliefs
    .filter(({ belief }) => belief >= NEGLIGIBLE)
    .filter((truth) => {
      const all = [...watches, { ...next, presses: typicalPresses(next, truth, meanGap(watches)) }];
      return settledIn(beliefsOf(all, COARSE), all)?.pattern.kind === truth.pattern.kind;
    })
    .reduce((sum, { belief }) => sum + belief, 0);

/** When somebody of usual reaction would press, nothing missed and nothing imagined. */
const typicalPresses = (watch: Watch, { pattern, place }: PatternBelief, gap: Seconds): readonly Seconds[] => {
  const delay = usualDelay(watch, UNKNOWN.reaction);
  const events = (): readonly Seconds[] => {
    if (pattern.kind === "no-place") return evenly(watch.from, watch.to - delay, gap);
    if (pattern.kind === "position") return place ? crossingsOf(watch, place.at) : [];
    if (pattern.kind !== "one-way") return arrivalsOf(watch, pattern);
    if (place) return crossingsOf(watch, place.at, pattern.way);
    return watch.passes
      .filter(({ way }) => way === pattern.way)
      .map(({ begin, end }, i) => begin + (end - begin) * ((i * 0.618) % 1 || 0.5));
  };
  return events().map((event) => event + delay);
};

/** Between presses so far. */
const meanGap = (watches: readonly Watch[]): Seconds => {
  const { presses, time } = totalOf(watches);
  return time / Math.max(1, presses);
};

const evenly = (from: Seconds, to: Seconds, gap: Seconds): readonly Seconds[] =>
  Array.from({ length: Math.max(0, Math.floor((to - from) / gap)) }, (_, i) => from + (i + 0.5) * gap);
