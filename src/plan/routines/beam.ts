import { bandOf, insideBand, type Profile, type Raw } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Targets } from "../score.ts";
import { allAtShare, type Routine, rawAtShare, type Task, times, travels } from "./task.ts";

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
