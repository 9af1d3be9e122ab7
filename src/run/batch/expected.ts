import { type Probability, type Seconds, secondsOf } from "../../domain/units.ts";
import { compileStep } from "../../plan/compile.ts";
import type { Job } from "../session/job.ts";
import type { Member, RackPlan } from "./batch.ts";
import { localisedOnce } from "./localising.ts";

/** What a rack run will take, told before anything moves. */
export interface Expected {
  /** All groups through the sequence, mains and slow movements among it. */
  readonly together: Seconds;
  /** Those that will differ, alone, in the mean. */
  readonly alone: Seconds;
  readonly total: Seconds;
  /** Every fixture through the whole sequence, one after the other. */
  readonly oneByOne: Seconds;
  /** How many will be looked at alone, in the mean. */
  readonly odd: number;
  /** How many have something, in the mean, and how many of these a watcher lets pass either way. */
  readonly faulty: number;
  readonly missed: { readonly together: number; readonly oneByOne: number };
}

/** How many of the pressed ones have nothing: nobody presses at the right thing only. Judgement. */
const FALSE_ALARMS: Probability = 0.1;
/** Who watches six sees less of each than who watches one; what is missed in its group is never looked at alone. Judgement. */
const MISSED = { together: 0.2, oneByOne: 0.1 } as const satisfies Record<string, Probability>;
/** Steps at which a fixture with a fault differs, in the mean: judgement. */
const STEPS_PRESSED = 2;

/**
 * How long a rack takes to watch, looked at together first and alone where something differs, beside one fixture after the
 * other: two-stage screening (Dorfman 1943, Ann. Math. Stat. 14:436, has the principle). It pays as long as few show
 * something. Movements only: neither answers nor walks are in it, on either side.
 */
export const expectedOf = (
  { turns }: Pick<RackPlan, "turns">,
  members: readonly Member[],
  faultRate: Probability,
): Expected => {
  const passes = new Set(turns.map(({ pass }) => pass));
  const slow = [...passes].length * slowSeconds(members);
  const together = slow + turns.reduce((sum, turn) => sum + turnSeconds(turn, members), 0);
  const faulty = members.length * faultRate;
  const missed = { together: faulty * MISSED.together, oneByOne: faulty * MISSED.oneByOne };
  const odd = faulty - missed.together + (members.length - faulty) * FALSE_ALARMS;
  const alone = odd * meanAloneSeconds(members);
  const oneByOne = members.reduce((sum, member) => sum + slowSeconds([member]) + wholeSeconds(member), 0);
  return { together, alone, total: together + alone, oneByOne, odd, faulty, missed };
};

const slowSeconds = (members: readonly Member[]): Seconds =>
  Math.max(0, ...members.map(({ session }) => secondsOf(session.job.slowStart.frames)));

const turnSeconds = (turn: RackPlan["turns"][number], members: readonly Member[]): Seconds =>
  turn.steps.reduce((sum, index) => sum + Math.max(...turn.members.map((one) => stepSeconds(members[one], index))), 0);

const stepSeconds = (member: Member | undefined, index: number): Seconds =>
  secondsOf(member?.session.job.timeline.steps[index]?.frames ?? 0);

/** How long the plan takes, without what was added in the course of the run. */
const wholeSeconds = ({ session }: Member): Seconds =>
  session.job.opening.steps.reduce((sum, { frames }) => sum + secondsOf(frames), 0);

/** Every step could be the pressed one: the mean length of what is played of it alone, times the number of steps. */
const meanAloneSeconds = (members: readonly Member[]): Seconds => {
  const kinds = new Map(members.map(({ spot, session }) => [spot.profile, session.job]));
  const means = new Map([...kinds].map(([profile, job]) => [profile, STEPS_PRESSED * meanLocalised(job)]));
  return members.reduce((sum, { spot }) => sum + (means.get(spot.profile) ?? 0), 0) / Math.max(1, members.length);
};

const meanLocalised = ({ timeline, sequence, bench }: Job): Seconds => {
  const { profile, steps } = timeline;
  const fitted = sequence.steps.filter((_, index) => steps[index]?.fitted);
  const lengths = fitted.map((step) =>
    localisedOnce([step]).reduce(
      (sum, one) => sum + secondsOf(compileStep(profile, bench, one, profile.rest, 1).frames),
      0,
    ),
  );
  return lengths.reduce((sum, one) => sum + one, 0) / Math.max(1, lengths.length);
};
