import { type Profile, physicalOf, type Travel, travelOf } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { FRAME_SECONDS, type Frame, type Seconds, secondsOf } from "../../domain/units.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import { crossingOf, type Pass, passesOf, type TravelWay } from "./pass.ts";
import type { Pattern } from "./pattern.ts";

/** One attempt at a step as one function saw it: how it moved, and when the key was pressed, in seconds since frame 0. */
export interface Watch {
  readonly travel: Travel;
  /** How late the fixture follows: the profile's word, or what was measured at this speed. */
  readonly lag: Seconds;
  readonly passes: readonly Pass[];
  /** In order; a held key is one press. */
  readonly presses: readonly Seconds[];
  /** How far off each of them may be either way; none where all came from a key. */
  readonly gives?: readonly Seconds[];
  /** Presses count from here to here. */
  readonly from: Seconds;
  readonly to: Seconds;
}

/** A press as the run keeps it: the frame that was out, and the seconds since frame 0. */
export interface Press {
  readonly frame: Frame;
  readonly after: Seconds;
  /** How far off it may be either way, of a press that came over the air. */
  readonly give?: Seconds;
}

/** How long after a step a press still belongs to it: the shut beam before the next. */
const STILL_COUNTS_S: Seconds = 1;

/** What one function did in a step and what was pressed meanwhile; undefined when it did not travel at a constant speed. */
export const watchOf = (
  profile: Profile,
  step: CompiledStep,
  id: FunctionId,
  presses: readonly Press[],
  lag?: Seconds,
): Watch | undefined => {
  const travel = travelOf(profile, id);
  const passes = passesOf(profile, step, id);
  if (!travel || passes.length === 0) return undefined;
  const [from, to] = [secondsOf(step.leadIn), secondsOf(step.frames) + STILL_COUNTS_S];
  const within = timedPresses(presses).filter(({ time }) => time >= from && time <= to);
  const times = within.map(({ time }) => time);
  const watch: Watch = { travel, lag: lag ?? travel.lag, passes, presses: times, from, to };
  return within.some(({ give }) => give > 0) ? { ...watch, gives: within.map(({ give }) => give) } : watch;
};

/**
 * A watch as far as it was watched: the movements that were broken off say nothing, nor does what was pressed after them.
 * Undefined where no movement was over by then.
 */
export const watchedUntil = (watch: Watch, until: Seconds): Watch | undefined => {
  const passes = watch.passes.filter(({ end }) => end <= until);
  const last = passes.at(-1);
  if (!last) return undefined;
  const to = Math.min(until, last.end + STILL_COUNTS_S);
  // Later ones fall away at the end, so those that stay keep their gives.
  return { ...watch, passes, to, presses: watch.presses.filter((press) => press <= to) };
};

/** Nobody presses for a second thing within this time: a key that repeats, a switch that bounces, a press for emphasis. Judgement. */
const ANEW_S: Seconds = 0.3;

/** The times of presses by their frames, finer where the clock says where in the frame; a held key counts once, when it went down. */
export const pressTimes = (presses: readonly Press[]): readonly Seconds[] =>
  timedPresses(presses).map(({ time }) => time);

const timedPresses = (presses: readonly Press[]): readonly { readonly time: Seconds; readonly give: Seconds }[] => {
  const all = presses.map((press) => ({ time: timeOf(press), give: press.give ?? 0 })).sort((a, b) => a.time - b.time);
  return all.filter(({ time }, i) => i === 0 || time - (all[i - 1]?.time ?? 0) >= ANEW_S);
};

/** The frame is the truth: the run's clock goes on while a movement is frozen, its frames do not. */
const timeOf = ({ frame, after }: Press): Seconds =>
  secondsOf(frame) + Math.min(FRAME_SECONDS, Math.max(0, after - secondsOf(frame)));

/** When a place is commanded to be crossed, both ways or one. `place` is in the travel's unit, degrees or per cent. */
export const crossingsOf = ({ passes }: Watch, place: number, way?: TravelWay): readonly Seconds[] =>
  passes.flatMap((pass) => (way === undefined || pass.way === way ? (crossingOf(pass, place) ?? []) : []));

/** When the fixture comes to where a pattern of ends or turn-rounds expects something: each arrival once. */
export const arrivalsOf = (watch: Watch, { kind }: Pattern): readonly Seconds[] =>
  watch.passes.filter((pass) => EXPECTS[kind]?.(watch, pass) ?? false).map(({ end }) => end);

const EXPECTS: Readonly<Partial<Record<Pattern["kind"], (watch: Watch, pass: Pass) => boolean>>> = {
  "low-end": (watch, pass) => isAt(watch, pass, "low"),
  "high-end": (watch, pass) => isAt(watch, pass, "high"),
  "both-ends": (watch, pass) => isAt(watch, pass, "low") || isAt(watch, pass, "high"),
  "turn-rounds": () => true,
};

/** Within half a percent of the travel. */
const isAt = ({ travel }: Watch, { to }: Pass, end: "low" | "high"): boolean => {
  const at = physicalOf(travel, end === "low" ? travel.low : travel.high);
  return Math.abs(to - at) <= 0.005 * Math.abs(travel.to - travel.from);
};
