import type { Band, Banded, Profile, Raw } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Score } from "../score.ts";
import { positionsOf, type Routine, type Task, times } from "./task.ts";

/** Every position on, and back; then the longest hops, where a tired motor loses its place. */
export const stepThrough: Routine = {
  suits: (profile, id) => profile.functions.get(id)?.kind === "wheel",
  prepare: ({ profile, functions }) => functions.map((id) => [id, positionsOf(profile, id)[0] ?? 0] as const),
  play: (task, score) => {
    for (const id of task.functions)
      walk(task, score, id, visitsOf(positionsOf(task.profile, id), task.step.options.longest_hops ?? false));
  },
};

const walk = (task: Task, score: Score, id: FunctionId, visits: readonly Raw[]): void => {
  for (const at of visits) {
    const target = [[id, at]] as const;
    const travel = score.least(target);
    score.jump(target);
    score.stay(travel + (task.step.options.dwell_s ?? 1));
  }
};

const visitsOf = (positions: readonly Raw[], longestHops: boolean): readonly Raw[] => {
  const [first = 0, ...others] = positions;
  const hops = longestHops ? others.slice(-2).flatMap((far) => [first, far]) : [];
  return [...others, ...others.toReversed().slice(1), first, ...hops, first];
};

/** Stands at four angles, then turns slow and fast, both ways. */
export const rotate: Routine = {
  suits: (profile, id) => turningOf(profile, id) !== undefined,
  prepare: ({ profile, functions }) => functions.map((id) => [id, angleRaw(turningOf(profile, id), 0)] as const),
  play: (task, score) => {
    const { index_s = 1, slow_s = 4, fast_s = 3 } = task.step.options;
    for (const id of task.functions) {
      const turning = turningOf(task.profile, id);
      times(4, (quarter) => stand(score, id, angleRaw(turning, quarter * 90), index_s));
      for (const [rpm, time] of [
        [6, slow_s / 2],
        [-6, slow_s / 2],
        [45, fast_s / 2],
        [-45, fast_s / 2],
      ] as const)
        stand(score, id, speedRaw(turning, rpm), time);
      stand(score, id, angleRaw(turning, 0), 0.5);
    }
  },
};

const stand = (score: Score, id: FunctionId, raw: Raw, time: number): void => {
  score.jump([[id, raw]]);
  score.hold(time);
};

const turningOf = (profile: Profile, id: FunctionId): Banded | undefined => {
  const spec = profile.functions.get(id);
  return spec?.kind === "banded" && spec.bands.some(({ is }) => is === "turn") ? spec : undefined;
};

const angleRaw = (turning: Banded | undefined, degrees: number): Raw => {
  const band = turning?.bands.find(({ is }) => is === "index" || is === "stop");
  return band ? rawInBand(band, degrees) : 0;
};

const speedRaw = (turning: Banded | undefined, rpm: number): Raw => {
  const band = turning?.bands.find(
    ({ is, range }) => is === "turn" && range !== undefined && Math.sign(range[0]) === Math.sign(rpm),
  );
  return band ? rawInBand(band, rpm) : 0;
};

/** The raw value whose meaning is nearest to the one wanted, inside the band. */
const rawInBand = ({ from, to, range }: Band, wanted: number): Raw => {
  if (!range || range[0] === range[1]) return Math.floor((from + to) / 2);
  const share = (wanted - range[0]) / (range[1] - range[0]);
  return Math.round(from + Math.min(1, Math.max(0, share)) * (to - from));
};
