import type { Bench } from "../../data/bench/bench.ts";
import { type Profile, type Raw, rawOf, rawOfShare, travelOf } from "../../data/profile/profile.ts";
import type { Step } from "../../data/sequence/sequence.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Seconds } from "../../domain/units.ts";
import type { Score, Targets } from "../score.ts";

/** A step to be written for one fixture; `functions` are those of the step that the fixture has. */
export interface Task {
  readonly profile: Profile;
  readonly bench: Bench;
  readonly step: Step;
  readonly functions: readonly FunctionId[];
}

/** How a routine is played: where it starts, and what it does from there. */
export interface Routine {
  /** Whether it can be played on this function of this fixture. */
  readonly suits: (profile: Profile, id: FunctionId) => boolean;
  /** Where the functions under test stand before the beam opens. */
  readonly prepare: (task: Task) => Targets;
  readonly play: (task: Task, score: Score) => void;
}

/** Whether a function moves between two ends. */
export const travels = (profile: Profile, id: FunctionId): boolean => profile.functions.get(id)?.kind === "travel";

/** The raw values of a wheel's positions; none of what is no wheel. */
export const positionsOf = (profile: Profile, id: FunctionId): readonly Raw[] => {
  const spec = profile.functions.get(id);
  return spec?.kind === "wheel" ? spec.positions.map(({ at }) => at) : [];
};

/** Shares of the fixture's own full speed. Slow is for ears and for placing a fault, full for what only speed shows. */
const SHARE_OF_FULL_SPEED = { slow: 0.1, normal: 0.5, full: 1 } as const;

/**
 * How long one pass over a share of the travel takes, as the step asks; the slowest of the functions
 * under test decides. `share` is 0 to 1.
 */
export const passTime = ({ profile, step, functions }: Task, share: number): Seconds => {
  const { seconds, deg_per_s, speed } = step.options;
  if (seconds !== undefined) return seconds;
  const times = functions.map((id) => {
    const travel = travelOf(profile, id);
    if (!travel) return 0;
    if (deg_per_s !== undefined && travel.unit === "deg")
      return (Math.abs(travel.to - travel.from) * share) / deg_per_s;
    return (travel.fullTravel * share) / SHARE_OF_FULL_SPEED[speed ?? "normal"];
  });
  return Math.max(0, ...times);
};

/**
 * The raw value at a share of the travel, and 0 for a function that the fixture does not have. `share`
 * is 0 to 1, from the lowest raw value.
 */
export const rawAtShare = (profile: Profile, id: FunctionId, share: number): Raw => {
  const spec = profile.functions.get(id);
  return spec ? rawOfShare(spec, share) : 0;
};

/** All functions under test at one share of their travel. `share` is 0 to 1, from the lowest raw value. */
export const allAtShare = ({ profile, functions }: Task, share: number): Targets =>
  functions.map((id) => [id, rawAtShare(profile, id, share)] as const);

/**
 * All functions under test, moved away from where the bench's target is and kept inside their travel: pan and tilt by
 * `degrees`, any other by `share` of its travel, -1 to 1.
 */
export const offsetTargets = (task: Task, degrees: number, share: number): Targets =>
  task.functions.map((id) => {
    const travel = travelOf(task.profile, id);
    if (!travel) return [id, 0] as const;
    const middle = middleOf(task, id);
    const offset =
      id === "Pan" || id === "Tilt"
        ? Math.round((degrees / (travel.to - travel.from)) * (travel.high - travel.low))
        : Math.round(share * (travel.high - travel.low));
    return [id, Math.min(travel.high, Math.max(travel.low, middle + offset))] as const;
  });

const middleOf = ({ profile, bench }: Task, id: FunctionId): Raw => {
  const travel = travelOf(profile, id);
  if (!travel) return 0;
  const aim = id === "Pan" ? bench.target.pan : id === "Tilt" ? bench.target.tilt : (travel.from + travel.to) / 2;
  return rawOf(travel, aim);
};

/** Does something `count` times, a whole number from 0. The action is given the turn, counted from 0. */
export const times = (count: number, action: (index: number) => void): void => {
  for (let index = 0; index < count; index++) action(index);
};
