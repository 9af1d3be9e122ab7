import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { parseBench } from "../../../src/data/bench/bench.ts";
import { parseProfile } from "../../../src/data/profile/parse.ts";
import { parseSequence } from "../../../src/data/sequence/parse.ts";
import { compile } from "../../../src/plan/compile.ts";
import { fingerprint } from "../../../src/plan/stored.ts";
import { planOf } from "../../../src/plan/timeline.ts";
import { program } from "../../kit/built.ts";
import { quantile } from "../line/measures.ts";
import { type Row, row } from "../line/row.ts";
import { rackOf48Ready } from "./rack.ts";

const read = <T>(
  parse: (source: string, text: string) => { readonly ok: boolean; readonly value?: T },
  file: string,
): T => {
  const result = parse(file, readFileSync(file, "utf8"));
  if (!result.ok || result.value === undefined) throw new Error(`${file} is not sound`);
  return result.value;
};

const timed = (times: number, work: () => unknown): number => {
  const took = Array.from({ length: times }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return quantile(took, 0.5);
};

/** Compiling, fingerprints, start-up, and what the sequences cost in minutes beside what the metal itself needs. */
export const planBench = async (): Promise<readonly Row[]> => {
  const bench = read(parseBench, "benches/bench.yaml");
  const spot = read(parseProfile, "profiles/spot-16bit.yaml");
  const full = read(parseSequence, "sequences/full.yaml");
  const compiled = compile(spot, full, bench);
  const main = program();
  const help = timed(5, () => spawnSync(process.execPath, [main, "--help"]));
  const bare = timed(5, () => spawnSync(process.execPath, ["-e", "0"]));
  const costs = ["quick", "full"].map((name) => ({
    name,
    plan: planOf(compile(spot, read(parseSequence, `sequences/${name}.yaml`), bench)),
  }));
  const rack48 = rackOf48Ready();
  return [
    row(
      "compile the full check 48 times",
      "ms",
      timed(5, () => Array.from({ length: 48 }, () => compile(spot, full, bench))),
    ),
    row(
      "compile the full check for a rack of 48, once for each kind, beside once for each fixture",
      "ms",
      timed(5, rack48.onceForEachKind),
      timed(5, rack48.forEveryFixture),
    ),
    row("make that rack ready: compiled, fingerprints, groups, other modes read", "ms", timed(5, rack48.ready)),
    row(
      "fingerprints of the full check",
      "ms",
      timed(5, () => compiled.steps.map((step) => (step.fitted ? fingerprint(spot, step) : ""))),
    ),
    row("start to help, beside node alone", "ms", help, bare),
    ...costs.map(({ name, plan }) =>
      row(`${name} check watched, beside the fixture's own least time`, "min", plan.watched / 60, plan.floor / 60),
    ),
  ];
};
