import { type Band, type Banded, bandOf, insideBand, type Profile, type Raw } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import {
  allAtShare,
  positionsOf,
  type Routine,
  rawAtShare,
  type Score,
  type Targets,
  type Task,
  times,
  travels,
} from "../score.ts";

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

/** Flashes stay at or under 3 a second in view (WCAG 2.1, 2.3.1): one flash is a way in and a way out. */
const LEAST_DWELL_S = 1 / 6;

/** Fully in, fully out, again. */
export const inAndOut: Routine = {
  suits: (profile, id) => endsOf(profile, id) !== undefined,
  prepare: ({ profile, functions }) => functions.map((id) => [id, endsOf(profile, id)?.[0] ?? 0] as const),
  play: ({ profile, functions, step }, score) => {
    const { times: count = 2, dwell_s = 0.8 } = step.options;
    times(count * 2, (change) => {
      const targets = functions.map((id) => [id, endsOf(profile, id)?.[change % 2 === 0 ? 1 : 0] ?? 0] as const);
      const travel = score.least(targets);
      score.jump(targets);
      score.stay(travel + Math.max(LEAST_DWELL_S, dwell_s));
    });
  },
};

/** Raw values out of the beam and in it: a shutter's "in" is open, so that it is watched letting light through. */
const endsOf = (profile: Profile, id: FunctionId): readonly [Raw, Raw] | undefined => {
  const spec = profile.functions.get(id);
  if (spec?.kind === "travel") return [0, rawAtShare(profile, id, 1)];
  if (spec?.kind !== "banded") return undefined;
  const out = bandOf(spec, "out") ?? bandOf(spec, "closed");
  const into = bandOf(spec, "in") ?? bandOf(spec, "open");
  return out && into ? [insideBand(out), insideBand(into)] : undefined;
};

/** Stands still, at the levels asked for or where the base setting puts it. */
export const hold: Routine = {
  suits: travels,
  prepare: (task) => (task.step.options.at_pct ? allAtShare(task, firstLevel(task.step.options.at_pct)) : []),
  play: (task, score) => {
    const { at_pct, seconds = 3 } = task.step.options;
    for (const pct of at_pct ?? []) {
      score.ramp(allAtShare(task, pct / 100), 0);
      score.hold(seconds);
    }
    if (!at_pct) score.hold(seconds);
  },
};
const firstLevel = (levels: readonly number[]): number => (levels[0] ?? 0) / 100;

/** The same state held on all of a group, so that they can be compared: a mix, a level, a zoom, a gobo and its focus. */
export const sideBySide: Routine = {
  suits: (_profile: Profile, _id: FunctionId) => true,
  prepare: (task) => [
    ...(task.step.options.at_pct ? ofTravels(task, firstLevel(task.step.options.at_pct)) : []),
    ...task.functions.flatMap((id) => firstPosition(task.profile, id)),
  ],
  play: (task, score) => {
    const { at_pct, dwell_s = 5 } = task.step.options;
    for (const pct of at_pct ?? []) {
      score.ramp(ofTravels(task, pct / 100), 0);
      score.hold(dwell_s);
    }
    if (!at_pct) score.hold(dwell_s);
  },
};

const ofTravels = (task: Task, share: number): Targets =>
  allAtShare({ ...task, functions: task.functions.filter((id) => travels(task.profile, id)) }, share);

/** Something to compare must be in the beam. */
const firstPosition = (profile: Profile, id: FunctionId): Targets => {
  const spec = profile.functions.get(id);
  const first = spec?.kind === "wheel" ? spec.positions.find(({ is }) => is !== "open") : undefined;
  return first ? [[id, first.at]] : [];
};
