import { type Watch, watchOf } from "../../../../src/diagnosis/places/watch.ts";
import type { FunctionId } from "../../../../src/domain/trade/functions.ts";
import type { CompiledStep } from "../../../../src/plan/timeline.ts";
import { chanceFrom, type SimDraw } from "../../../../src/sim/chance.ts";
import { pressesFor, type Truth, type Watcher } from "./presser.ts";
import { spot } from "./rig.ts";

/** Sees everything, presses for nothing else, at a fixture that follows as its profile says. */
export const KEEN: Watcher = { lag: 0.3, laterUp: 0, misses: 0, strays: 0, slowness: 0, tail: 0.1 };

/** Misses one in ten and presses for nothing on every tenth pass; fixture and person are not quite the usual ones. */
export const ordinary = (chance: SimDraw): Watcher => ({
  lag: 0.25 + 0.15 * chance(),
  laterUp: 0,
  misses: 0.1,
  strays: 0.1,
  slowness: 0.2 * chance() - 0.05,
  tail: 0.1,
});

/** Steps played one after the other to the same watcher with the same thing set. */
export const watched = (
  steps: readonly CompiledStep[],
  truth: Truth,
  watcher: Watcher,
  chance: SimDraw = chanceFrom(1),
  id: FunctionId = "Pan",
): readonly Watch[] =>
  steps.map((step) => {
    const watch = watchOf(spot, step, id, pressesFor(spot, step, id, truth, watcher, chance));
    if (!watch) throw new Error(`${step.id} does not move ${id} at a constant speed`);
    return watch;
  });
