import { isAxisFunction } from "../../domain/trade/functions.ts";
import {
  allAtShare,
  offsetTargets,
  passTime,
  positionsOf,
  type Routine,
  type Targets,
  type Task,
  times,
  travels,
} from "../score.ts";

/** End to end at constant speed, there and back: one pass is one way. */
export const sweep: Routine = {
  suits: travels,
  prepare: (task) => allAtShare(task, 0),
  play: (task, score) => {
    const time = passTime(task, 1);
    times(task.step.options.passes ?? 2, (pass) => {
      score.ramp(allAtShare(task, pass % 2 === 0 ? 1 : 0), time);
      score.hold(0.25);
    });
  },
};

/** From end to end as fast as it can, and long enough still for a press on arrival. */
export const stopwatch: Routine = {
  suits: travels,
  prepare: (task) => allAtShare(task, 0),
  play: (task, score) => {
    times(task.step.options.passes ?? 6, (pass) => {
      score.ramp(allAtShare(task, pass % 2 === 0 ? 1 : 0), 0);
      score.hold(STANDS_S);
    });
  },
};
const STANDS_S = 2.5;

/** Stops short of both ends, so that what happens here cannot come from an end. */
export const shortSweep: Routine = {
  suits: travels,
  prepare: (task) => allAtShare(task, inset(task.step.options.inset_pct)),
  play: (task, score) => {
    const margin = inset(task.step.options.inset_pct);
    const time = passTime(task, 1 - 2 * margin);
    times(task.step.options.passes ?? 2, (pass) => {
      score.ramp(allAtShare(task, pass % 2 === 0 ? 1 - margin : margin), time);
      score.hold(0.25);
    });
  },
};
const inset = (pct: number | undefined): number => (pct ?? 15) / 100;

/** The same place approached from both sides: play in the drive shows as two places. */
export const backlash: Routine = {
  suits: travels,
  prepare: (task) => offsetTargets(task, -(task.step.options.deg ?? 20), -0.2),
  play: (task, score) => {
    const { deg = 20, dwell_s = 1.5, times: count = 2 } = task.step.options;
    times(count * 2, (side) => {
      const away = side % 2 === 0 ? -1 : 1;
      score.ramp(offsetTargets(task, away * deg, away * 0.2), 0);
      score.hold(0.2);
      score.ramp(offsetTargets(task, 0, 0), 0.5);
      score.hold(dwell_s);
    });
  },
};

/** Jumps away and back: it should stop dead, and where it was. */
export const snap: Routine = {
  suits: travels,
  prepare: (task) => jumped(task, 0, 0),
  play: (task, score) => {
    const { deg = 15, pct = 100, dwell_s = 0.8, times: count = 3 } = task.step.options;
    const away = jumped(task, deg, pct / 100);
    const home = jumped(task, 0, 0);
    const isMixed = task.functions.some(isAxisFunction) && !task.functions.every(isAxisFunction);
    times(count * 2, (jump) => {
      const targets = jump % 2 === 0 ? away : home;
      // Each as fast as it can, so that all pull at once: in a ramp the slowest would hold the others back.
      const travel = isMixed ? score.least(targets) : 0;
      if (isMixed) score.jump(targets);
      else score.ramp(targets, 0);
      score.hold(travel + dwell_s);
    });
  },
};

/** Puts axes `degrees` from the target, and all else at `share` of its travel. */
const jumped = (task: Task, degrees: number, share: number): Targets =>
  task.functions.flatMap((id) => {
    const one = { ...task, functions: [id] };
    return isAxisFunction(id) ? offsetTargets(one, degrees, 0) : allAtShare(one, share);
  });

/**
 * Short hard jolts, then still: has anything dropped out or shifted? With an axis among them the axes jolt the head, and the
 * others are at work meanwhile: a travel goes there and back, a wheel from position to position.
 */
export const shake: Routine = {
  suits: (profile, id) => travels(profile, id) || positionsOf(profile, id).length > 1,
  prepare: (task) => [...offsetTargets(jolting(task), 0, 0), ...shownOn(task, 0), ...sweptTo(task, 0)],
  play: (task, score) => {
    const jolts = Math.max(2, Math.round((task.step.options.seconds ?? 2) / JOLT_S / 2) * 2);
    times(jolts, (jolt) => {
      score.jump(offsetTargets(jolting(task), jolt % 2 === 0 ? 4 : -4, jolt % 2 === 0 ? 0.04 : -0.04));
      score.jump(shownOn(task, jolt));
      const swept = sweptTo(task, 1 - Math.abs(1 - (2 * (jolt + 1)) / jolts));
      if (swept.length > 0) score.ramp(swept, JOLT_S);
      else score.hold(JOLT_S);
    });
    score.jump(offsetTargets(jolting(task), 0, 0));
    score.hold(1.5);
  },
};
const JOLT_S = 0.25;

/** The axes; without one all that travels. */
const jolting = (task: Task): Task => {
  const axes = task.functions.filter(isAxisFunction);
  return { ...task, functions: axes.length > 0 ? axes : task.functions.filter((id) => travels(task.profile, id)) };
};

/** All that travels and does not jolt the head, at a share of its travel. */
const sweptTo = (task: Task, share: number): Targets => {
  const { functions } = jolting(task);
  const swept = task.functions.filter((id) => travels(task.profile, id) && !functions.includes(id));
  return allAtShare({ ...task, functions: swept }, share);
};

/** Every second the next position of a wheel. */
const shownOn = ({ profile, functions }: Task, jolt: number): Targets =>
  functions.flatMap((id) => {
    const positions = positionsOf(profile, id);
    const position = positions[Math.floor(jolt * JOLT_S) % Math.max(1, positions.length)];
    return position === undefined ? [] : [[id, position] as const];
  });
