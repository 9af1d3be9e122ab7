import type { Profile, Raw, Travel } from "../data/profile/profile.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
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
