import { loadMaterial } from "../../../src/app/common/data.ts";
import { RIGHT_ANSWERS } from "../../../src/app/simulated/right-answers.ts";
import { settable } from "../../../src/app/simulated/sim-bench.ts";
import { simulatedBuild } from "../../../src/app/simulated/simulated-build.ts";
import { simulatedRun } from "../../../src/app/simulated/start.ts";
import { fileLibrary } from "../../../src/io/files/files.ts";
import { compile } from "../../../src/plan/compile.ts";
import { planOf } from "../../../src/plan/timeline.ts";
import type { JobSheet } from "../../../src/reports/job-sheet.ts";
import { type Row, row } from "../line/row.ts";

const SEQUENCES = ["quick", "full", "first-look", "pan-tilt", "wheels"];
const SEED = 1;

/**
 * For every sequence and kind of fixture: minutes to be watched beside the least the metal needs, and how many of the faults
 * set one by one in the simulated fixture are named among the first three, for each minute watched. Simulated fixtures and a
 * simulated watcher, close to the model and so too kind to it. `FAULTS=12` sets only so many of each, evenly chosen; `KINDS`
 * names the profiles.
 */
export const foundBench = async (): Promise<readonly Row[]> => {
  const shelf = fileLibrary(process.cwd());
  const kinds = process.env["KINDS"]?.split(",") ?? shelf.names("profiles");
  const rows: Row[] = [];
  for (const profile of kinds) for (const sequence of SEQUENCES) rows.push(...(await foundBy(profile, sequence)));
  return rows;
};

const foundBy = async (profile: string, sequence: string): Promise<readonly Row[]> => {
  const shelf = fileLibrary(process.cwd());
  const names = { profile, sequence, bench: "bench" };
  const material = loadMaterial(shelf, names);
  if (!material.ok) throw new Error(`${profile} and ${sequence} are not sound`);
  const { profile: kind, sequence: steps, bench } = material.value;
  const plan = planOf(compile(kind.value, steps.value, bench.value));
  const faults = evenly(settable(simulatedBuild(kind.value, SEED), SEED), Number(process.env["FAULTS"] ?? 12));
  const found: string[] = [];
  for (const fault of faults) {
    const sheet = await simulatedRun(shelf, {
      names,
      address: 1,
      set: [fault],
      seed: SEED,
      drawFrom: "all",
      copy: "drawn",
      run: "found",
    });
    if (!sheet.ok) throw new Error(`${fault} could not be set`);
    if (isNamed(sheet.value, fault)) found.push(fault);
  }
  const [watched, least] = [plan.watched / 60, plan.floor / 60];
  return [
    row(`${profile}, ${sequence}: watched, beside the fixture's own least time`, "min", watched, least),
    row(`${profile}, ${sequence}: found of ${faults.length} set`, "faults", found.length),
    row(
      `${profile}, ${sequence}: found of 100 set, for each minute watched`,
      "faults",
      (found.length * 100) / faults.length / watched,
    ),
  ];
};

const MOST_LOOKED_AT = 3;
const isNamed = ({ faults }: JobSheet, fault: string): boolean => {
  const right: readonly string[] = RIGHT_ANSWERS[fault] ?? [];
  return faults
    .filter(({ id }) => id !== "nothing-broken")
    .slice(0, MOST_LOOKED_AT)
    .some(({ id }) => right.includes(id));
};

const evenly = (all: readonly string[], most: number): readonly string[] =>
  all.filter((_, index) => index % Math.ceil(all.length / most) === 0);
