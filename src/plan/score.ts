import type { Bench } from "../data/bench/bench.ts";
import { type Profile, type Raw, rawOf, rawOfShare, type Travel, travelOf } from "../data/profile/profile.ts";
import type { Step } from "../data/sequence/sequence.ts";
import { type FunctionId, isAxisFunction } from "../domain/trade/functions.ts";
import { type Frame, framesIn, type Seconds, secondsOf } from "../domain/units.ts";
import type { Move } from "./timeline.ts";

export type Targets = readonly (readonly [FunctionId, Raw])[];

/** A step being written: where everything stands, how far the time has come, and the movements so far. */
export class Score {
  readonly moves: Move[] = [];
  at: Frame = 0;
  private readonly standing: Map<FunctionId, Raw>;
  private readonly profile: Profile;
  private readonly pace: number;

  /** At pace 0.5 every ramp takes twice as long, and so does the stay after a jump; standing still takes as long as ever. */
  constructor(profile: Profile, start: ReadonlyMap<FunctionId, Raw>, pace: number) {
    this.profile = profile;
    this.pace = pace;
    this.standing = new Map(start);
  }

  /** Where a function is commanded to stand at this point of the step; 0 for one that the step says nothing of. */
  raw(id: FunctionId): Raw {
    return this.standing.get(id) ?? 0;
  }

  /** Commands all targets at once, now; takes no time by itself. */
  jump(targets: Targets): void {
    for (const [id, to] of targets) this.put(id, to, 0);
  }

  /** Moves all targets together in `time`, or as long as the slowest of them needs at full speed. */
  ramp(targets: Targets, time: Seconds): void {
    const frames = framesIn(Math.max(time, this.least(targets)) / this.pace);
    for (const [id, to] of targets) this.put(id, to, frames);
    this.at += frames;
  }

  /** Stands still for `time`, at every pace. */
  hold(time: Seconds): void {
    this.at += framesIn(time);
  }

  /** Stays where a jump ended, longer at a slower pace: what cannot move more slowly can be looked at longer. */
  stay(time: Seconds): void {
    this.at += framesIn(time / this.pace);
  }

  /** The shortest time in which the fixture can go from where it stands to all these targets. */
  least(targets: Targets): Seconds {
    return Math.max(0, ...targets.map(([id, to]) => travelTime(this.profile, id, this.raw(id), to)));
  }

  private put(id: FunctionId, to: Raw, frames: Frame): void {
    const from = this.raw(id);
    if (from !== to) this.moves.push({ function: id, from, to, start: this.at, frames });
    this.standing.set(id, to);
  }
}

/** How long a fixture in good order needs from one raw value to another, without its lag. */
export const travelTime = (profile: Profile, id: FunctionId, from: Raw, to: Raw): Seconds => {
  const spec = profile.functions.get(id);
  if (!spec || from === to) return 0;
  if (spec.kind === "travel") return (Math.abs(to - from) / (spec.high - spec.low)) * spec.fullTravel;
  if (spec.kind === "wheel") return hops(spec.positions, from, to) * spec.step;
  return spec.kind === "banded" ? spec.move : 0;
};

const hops = (positions: readonly { readonly at: number }[], from: Raw, to: Raw): number => {
  const index = (raw: Raw) =>
    Math.max(
      0,
      positions.findLastIndex(({ at }) => at <= raw),
    );
  return Math.max(1, Math.abs(index(to) - index(from)));
};

/** The time in which the movements alone could be made: per function the sum of its travel, the longest of these. */
export const mechanicalFloor = (profile: Profile, moves: readonly Move[]): Seconds => {
  const sums = new Map<FunctionId, Seconds>();
  for (const move of moves)
    sums.set(move.function, (sums.get(move.function) ?? 0) + travelTime(profile, move.function, move.from, move.to));
  return Math.max(0, ...sums.values());
};

/** Whether frames of one slot step visibly: the travel moves slower than one slot value a frame. */
export const stepsShow = (spec: Travel, move: Move): boolean =>
  spec.slots.length === 1 && move.frames > 0 && Math.abs(move.to - move.from) / secondsOf(move.frames) < 40;

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
    const offset = isAxisFunction(id)
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
