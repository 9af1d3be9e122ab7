import type { Problem } from "../../domain/problem/problem.ts";
import type { Amps, Milliamps, Seconds } from "../../domain/units.ts";
import type { AtFixture, Circuit, Rack, RackFixture, Rcd } from "./rack.ts";

/** What one fixture draws from its circuit. */
export interface Draw {
  readonly fixture: RackFixture;
  readonly running: Amps;
  /** The most while it starts; never below running. */
  readonly starting: Amps;
  readonly start: Seconds;
}

/** What every fixture on a circuit draws, in the order of the rack; those whose profile says nothing of it are left out. */
export const drawsOn = (circuit: Circuit, fixtures: readonly RackFixture[]): readonly Draw[] =>
  fixtures
    .filter((fixture) => fixture.circuit === circuit.name)
    .flatMap((fixture) => {
      const { power } = fixture.profile;
      if (!power) return [];
      // Read at another mains voltage: the power stays the same, the current does not.
      const share = power.volts / circuit.volts;
      return [{ fixture, running: power.running * share, starting: power.starting * share, start: power.start }];
    });

/** The most that may flow on a circuit for hours. */
export const continuousLimit = ({ rating, continuous }: Circuit): Amps => rating * continuous;

/** What these fixtures draw together once they all run. */
export const runningSum = (draws: readonly Draw[]): Amps => draws.reduce((sum, { running }) => sum + running, 0);
/** What a circuit would carry were everything on it switched on at the same moment. */
export const startingSum = (draws: readonly Draw[]): Amps => draws.reduce((sum, { starting }) => sum + starting, 0);

/** Fixtures behind an RCD, whatever their circuit, in the order of the rack. */
export const behind = ({ fixtures, circuits }: Rack, rcd: Rcd): readonly RackFixture[] => {
  const fed = circuits.filter((circuit) => circuit.rcd?.name === rcd.name).map(({ name }) => name);
  return fixtures.filter(({ circuit }) => circuit !== undefined && fed.includes(circuit));
};

/** What these fixtures leak to earth together; a profile that says nothing of it counts as 0. */
export const leakageSum = (fixtures: readonly RackFixture[]): Milliamps =>
  fixtures.reduce((sum, { profile }) => sum + (profile.power?.leakage ?? 0), 0);

/** Every RCD of the rack, once. */
export const rcdsOf = ({ circuits }: Rack): readonly Rcd[] => [
  ...new Map(circuits.flatMap(({ rcd }) => (rcd ? [[rcd.name, rcd] as const] : []))).values(),
];

/** A balanced pair as of EIA-485 carries 32 unit loads between one sender and its end (ANSI E1.11; secondary source). */
export const MOST_LOADS = 32;
/** The input of a splitter is a receiver like any other. */
const SPLITTER_LOADS = 1;

/** A stretch of cable behind one sender: the line itself, or one output of its splitter. */
interface CableStretch {
  readonly words: string;
  readonly fixtures: readonly RackFixture[];
  readonly splitter: number;
}

/** A stretch of DMX line that carries more than 32 unit loads, told at the fixture that is one too many. */
export const checkLoads = (rack: Rack, at: AtFixture): readonly Problem[] =>
  rack.lines.flatMap(({ universe }) => {
    const here = rack.fixtures.filter(({ start }) => start?.universe === universe);
    return overloaded(here).map(({ words, loads, last }) =>
      at(last, "serial", {
        message: `${words} of universe ${universe} carries ${rounded(loads)} unit loads, ${last.serial} is past the ${MOST_LOADS} it can drive`,
        hint: "put a splitter in, and name its outputs with branch",
      }),
    );
  });

/** Of fixtures on one universe, the stretches with too much on them, each with the first fixture that is too many. */
export const overloaded = (fixtures: readonly RackFixture[]) =>
  stretchesOf(fixtures).flatMap(({ words, splitter, fixtures: on }) => {
    const loads = (count: number) => on.slice(0, count).reduce((sum, { profile }) => sum + profile.unitLoads, splitter);
    const last = on.find((_, index) => loads(index + 1) > MOST_LOADS);
    return last ? [{ words, loads: loads(on.length), last }] : [];
  });

const rounded = (loads: number): number => Math.round(loads * 1000) / 1000;

const stretchesOf = (fixtures: readonly RackFixture[]): readonly CableStretch[] => {
  const branches = [...new Set(fixtures.map(({ branch }) => branch))].filter((one) => one !== undefined);
  return [
    {
      words: "the DMX line",
      fixtures: fixtures.filter(({ branch }) => branch === undefined),
      splitter: branches.length > 0 ? SPLITTER_LOADS : 0,
    },
    ...branches.map((name) => ({
      words: `splitter output "${name}"`,
      fixtures: fixtures.filter(({ branch }) => branch === name),
      splitter: 0,
    })),
  ];
};

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
