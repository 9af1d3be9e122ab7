import { performance } from "node:perf_hooks";
import { assess } from "../../../src/diagnosis/places/assessment.ts";
import { followUps } from "../../../src/diagnosis/places/follow-up.ts";
import type { Watch } from "../../../src/diagnosis/places/watch.ts";
import { chanceFrom } from "../../../src/sim/chance.ts";
import type { Truth } from "../../diagnosis/places/kit/presser.ts";
import { bench, spot, stepOf } from "../../diagnosis/places/kit/rig.ts";
import { ordinary, watched } from "../../diagnosis/places/kit/session.ts";
import { type Row, row } from "../line/row.ts";

/** How long somebody waits for the strip and for the proposals, in a process that has done it before. */
export const speedRows = (): readonly Row[] => {
  const sweep = stepOf("{ sweep: Pan, deg_per_s: 60, passes: 10 }");
  const slow = stepOf("{ sweep: Pan, deg_per_s: 20, passes: 4 }");
  const watches = (truth: Truth, ...steps: (typeof sweep)[]) =>
    watched(steps, truth, ordinary(chanceFrom(5)), chanceFrom(6));
  const place: Truth = { kind: "position", place: 90 };
  const end = watches({ kind: "ends", low: true, high: true }, sweep);
  const rig = { profile: spot, bench, before: spot.rest };
  return [
    timed("presses to pattern and place, 5 passes each way at 60 deg/s", watches(place, sweep), assess),
    timed("the same with 2 passes each way at 20 deg/s besides", watches(place, sweep, slow), assess),
    timed("the same, presses at both ends", end, assess),
    timed("follow-up tests proposed and looked ahead at, both ends", end, (all) => {
      const found = assess(all);
      const begin = performance.now();
      if (found) followUps(rig, "Pan", found);
      return performance.now() - begin;
    }),
  ];
};

/** Median of 15; what returns a number has timed itself. */
const timed = (name: string, watches: readonly Watch[], work: (watches: readonly Watch[]) => unknown): Row => {
  const times = Array.from({ length: 15 }, () => {
    const begin = performance.now();
    const own = work(watches);
    return typeof own === "number" ? own : performance.now() - begin;
  });
  return row(name, "ms, median", times.sort((a, b) => a - b)[7] ?? Number.NaN);
};
