import { coverageOf, GRID } from "../../diagnosis/places/kit/coverage.ts";
import { type Row, row } from "../line/row.ts";

/** Over the whole grid of people, passes and speeds: how often a place is given with its 95 % interval, and how often that holds it. `SEEDS=200` runs more of each. */
export const coverageBench = async (): Promise<readonly Row[]> => {
  const runs = Number(process.env["SEEDS"] ?? 100);
  return GRID.flatMap((cell) => {
    const { given, held } = coverageOf(cell, runs);
    const words = `simulated, ${cell.person}, ${cell.passes} passes each way, ${cell.degPerSecond} deg/s`;
    return [
      row(`${words}: a place with an interval`, "% of runs", (100 * given) / runs),
      ...(given === 0 ? [] : [row(`${words}: the interval holds it`, "% of these", (100 * held) / given)]),
    ];
  });
};
