import type { Problem } from "../../domain/problem/problem.ts";
import type { AtFixture } from "./at-fixture.ts";
import type { Rack, RackFixture } from "./rack.ts";

/** A balanced pair as of EIA-485 carries 32 unit loads between one sender and its end (ANSI E1.11; secondary source). */
export const MOST_LOADS = 32;
/** The input of a splitter is a receiver like any other. */
const SPLITTER_LOADS = 1;

/** A stretch of cable behind one sender: the line itself, or one output of its splitter. */
interface Stretch {
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

const stretchesOf = (fixtures: readonly RackFixture[]): readonly Stretch[] => {
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
