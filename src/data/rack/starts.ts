import type { Seconds } from "../../domain/units.ts";
import { continuousLimit, type Draw, drawsOn, runningSum } from "./loads.ts";
import type { Circuit, Rack, RackFixture } from "./rack.ts";

/** In which order to switch a rack on, so that no circuit ever carries more than its rating, nor more for hours than it may. */
export interface StartPlan {
  /** Soonest first; those of one moment together, in the order of the rack. */
  readonly starts: readonly Start[];
  /** From the first switch until every fixture draws no more than it does while running. */
  readonly total: Seconds;
  /** Fixtures that no order can start: the circuit is too weak for what is on it. */
  readonly stuck: readonly RackFixture[];
  /** Fixtures of which nobody said what feeds them or what they draw. Somebody has to think about them. */
  readonly uncounted: readonly RackFixture[];
}
export interface Start {
  readonly at: Seconds;
  readonly fixtures: readonly RackFixture[];
}

/**
 * When to switch on which fixtures so that no circuit carries more than it may while they start. Fixtures that no order can
 * start are `stuck`, and those whose profile does not say what they draw are not counted.
 */
export const planStarts = (rack: Rack): StartPlan => {
  const plans = rack.circuits.map((circuit) => planCircuit(circuit, drawsOn(circuit, rack.fixtures)));
  const switched = plans.flatMap(({ switched }) => switched);
  const stuck = plans.flatMap(({ stuck }) => stuck.map(({ fixture }) => fixture));
  const moments = [...new Set(switched.map(({ at }) => at))].sort((a, b) => a - b);
  const counted = new Set([...stuck, ...switched.map(({ draw }) => draw.fixture)]);
  return {
    starts: moments.map((moment) => {
      const now = switched.filter(({ at }) => at === moment).map(({ draw }) => draw.fixture);
      return { at: moment, fixtures: rack.fixtures.filter((fixture) => now.includes(fixture)) };
    }),
    total: Math.max(0, ...switched.map(settledAt)),
    stuck,
    uncounted: rack.fixtures.filter((fixture) => !counted.has(fixture)),
  };
};

interface Switched {
  readonly at: Seconds;
  readonly draw: Draw;
}

const settledAt = ({ at, draw }: Switched): Seconds => at + draw.start;

/**
 * Greatest surge first, each as soon as it fits: whoever can be started at all can be started so. Nobody overtakes, since a
 * small one let in early could leave no room for the surge of a large one.
 */
const planCircuit = (circuit: Circuit, draws: readonly Draw[]) => {
  const queue = draws.toSorted((a, b) => surge(b) - surge(a));
  const switched: Switched[] = [];
  const stuck: Draw[] = [];
  for (const draw of queue) {
    const last = switched.at(-1)?.at ?? 0;
    const settling = switched.map(settledAt).filter((at) => at > last);
    const at = [last, ...settling.sort((a, b) => a - b)].find((moment) => fits(circuit, switched, draw, moment));
    if (at === undefined) stuck.push(draw);
    else switched.push({ at, draw });
  }
  return { switched, stuck };
};

const surge = ({ starting, running }: Draw): number => starting - running;
/** Sums of amps that differ by less are the same. */
const TINY = 1e-9;

const fits = (circuit: Circuit, switched: readonly Switched[], draw: Draw, at: Seconds): boolean => {
  const now = switched.reduce((sum, one) => sum + (settledAt(one) > at ? one.draw.starting : one.draw.running), 0);
  const later = runningSum(switched.map((one) => one.draw)) + draw.running;
  return now + draw.starting <= circuit.rating + TINY && later <= continuousLimit(circuit) + TINY;
};
