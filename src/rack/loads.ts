import type { Problem } from "../problem/problem.ts";
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
  stretchesOf(rack).flatMap((stretch) => {
    const loads = stretch.splitter + sum(stretch.fixtures);
    const last = stretch.fixtures.find(
      (_, index) => stretch.splitter + sum(stretch.fixtures.slice(0, index + 1)) > MOST_LOADS,
    );
    return last
      ? [
          at(last, "serial", {
            message: `${stretch.words} carries ${rounded(loads)} unit loads, ${last.serial} is past the ${MOST_LOADS} it can drive`,
            hint: "put a splitter in, and name its outputs with branch",
          }),
        ]
      : [];
  });

const sum = (fixtures: readonly RackFixture[]): number =>
  fixtures.reduce((total, { profile }) => total + profile.unitLoads, 0);
const rounded = (loads: number): number => Math.round(loads * 1000) / 1000;

const stretchesOf = ({ fixtures, lines }: Rack): readonly Stretch[] =>
  lines.flatMap(({ universe }) => {
    const here = fixtures.filter(({ start }) => start?.universe === universe);
    const branches = [...new Set(here.map(({ branch }) => branch))].filter((one) => one !== undefined);
    return [
      {
        words: `the DMX line of universe ${universe}`,
        fixtures: here.filter(({ branch }) => branch === undefined),
        splitter: branches.length > 0 ? SPLITTER_LOADS : 0,
      },
      ...branches.map((name) => ({
        words: `splitter output "${name}" of universe ${universe}`,
        fixtures: here.filter(({ branch }) => branch === name),
        splitter: 0,
      })),
    ];
  });
