import { allAtShare, offsetTargets, passTime, type Routine, times, travels } from "./task.ts";

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
  prepare: (task) => (isAxis(task.functions[0]) ? offsetTargets(task, 0, 0) : allAtShare(task, 0)),
  play: (task, score) => {
    const { deg = 15, pct = 100, dwell_s = 0.8, times: count = 3 } = task.step.options;
    const away = isAxis(task.functions[0]) ? offsetTargets(task, deg, 0) : allAtShare(task, pct / 100);
    const home = isAxis(task.functions[0]) ? offsetTargets(task, 0, 0) : allAtShare(task, 0);
    times(count * 2, (jump) => {
      score.ramp(jump % 2 === 0 ? away : home, 0);
      score.hold(dwell_s);
    });
  },
};
const isAxis = (id: string | undefined): boolean => id === "Pan" || id === "Tilt";

/** Short hard jolts, then still: has anything dropped out or shifted? */
export const shake: Routine = {
  suits: travels,
  prepare: (task) => offsetTargets(task, 0, 0),
  play: (task, score) => {
    const jolts = Math.max(2, Math.round((task.step.options.seconds ?? 2) / 0.25 / 2) * 2);
    times(jolts, (jolt) => {
      score.jump(offsetTargets(task, jolt % 2 === 0 ? 4 : -4, jolt % 2 === 0 ? 0.04 : -0.04));
      score.hold(0.25);
    });
    score.jump(offsetTargets(task, 0, 0));
    score.hold(1.5);
  },
};
