import { spawn } from "node:child_process";
import { appendFileSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { createInterface } from "node:readline";
import { bad, good, problem, type Result } from "../../domain/problem/problem.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { loadMaterial, type Names } from "../common/data.ts";
import { complain, EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import { settable } from "./sim-bench.ts";
import { simulatedBuild } from "./simulated-build.ts";
import { type PlannedCase, planCases, STRANGE_IDS, type TriedCase, tryCase } from "./trial-case.ts";
import { reportOf } from "./trial-report.ts";
import { tellTrial } from "./trial-words.ts";

export interface TrialOptions {
  readonly names: Names;
  /** How many runs each fault has, each with a seed of its own. */
  readonly runs: number;
  readonly seed: number;
  readonly json: boolean;
  /** How much of what is offered at the end of a run is done too, tests and inspections. */
  readonly followUps: number;
  /** Where finished cases are kept line by line, so that a trial that was broken off goes on; undefined: nowhere. */
  readonly keep: string | undefined;
  /** This process does one share of the cases and prints them line by line: "2/4". Undefined: it deals them out. */
  readonly part: string | undefined;
}

/** Tries the fault model on the simulated bench, on all cores, and reports how often it was right. */
export const trial = async (options: TrialOptions): Promise<ExitCode> => {
  const material = loadMaterial(fileLibrary(), options.names);
  if (!material.ok) return refuse(material.problems);
  const build = simulatedBuild(material.value.profile.value, 1);
  const plan = planCases(
    settable(build, options.seed),
    settable(build, options.seed, STRANGE_IDS),
    options.runs,
    options.seed,
  );
  const kept = keptIn(options);
  if (!kept.ok) return refuse(kept.problems);
  const todo = plan.flatMap((one, n) => (kept.value.has(n) ? [] : [{ n, one }]));
  if (options.part !== undefined) return await doShare(options, todo, options.part);
  if (options.keep !== undefined && kept.value.size === 0) writeFileSync(options.keep, `${headOf(options)}\n`);
  const whole = await dealOut(options, kept.value, plan.length);
  if (whole.size < plan.length) {
    complain(`Only ${whole.size} of ${plan.length} cases were finished.`);
    return EXIT.world;
  }
  const cases = [...whole].sort(([a], [b]) => a - b).map(([, one]) => one);
  const report = reportOf(cases, material.value.profile.value);
  const { profile, sequence } = options.names;
  print(
    options.json
      ? JSON.stringify({ profile, sequence, followUpsAllowed: options.followUps, ...report }, undefined, 2)
      : tellTrial(report, options.names),
  );
  return EXIT.done;
};

interface Numbered {
  readonly n: number;
  readonly one: PlannedCase;
}

const doShare = async (
  { names, followUps }: TrialOptions,
  todo: readonly Numbered[],
  part: string,
): Promise<ExitCode> => {
  const [share = 1, of = 1] = part.split("/").map(Number);
  for (const { n, one } of todo.filter((_, i) => i % of === share - 1))
    print(JSON.stringify({ n, case: await tryCase(fileLibrary(), names, followUps, one) }));
  return EXIT.done;
};

/** One process for each core; each prints a line for each case. */
const dealOut = async (
  options: TrialOptions,
  kept: ReadonlyMap<number, TriedCase>,
  planned: number,
): Promise<ReadonlyMap<number, TriedCase>> => {
  const all = new Map(kept);
  const shares = kept.size === planned ? 0 : availableParallelism();
  await Promise.all(
    Array.from({ length: shares }, (_, i) =>
      oneShare(options, `${i + 1}/${shares}`, (line) => {
        const { n, case: tried } = lineIn(line);
        all.set(n, tried);
        if (options.keep !== undefined) appendFileSync(options.keep, `${line}\n`);
      }),
    ),
  );
  return all;
};

interface CaseLine {
  readonly n: number;
  readonly case: TriedCase;
}

const oneShare = (
  { names, runs, seed, followUps, keep }: TrialOptions,
  part: string,
  take: (line: string) => void,
): Promise<void> =>
  new Promise((resolve) => {
    const given = [
      "--profile",
      names.profile,
      "--sequence",
      names.sequence,
      "--bench",
      names.bench,
      "--runs",
      `${runs}`,
      "--seed",
      `${seed}`,
      "--follow-ups",
      `${followUps}`,
    ];
    const args = [
      process.argv[1] ?? "",
      "trial",
      ...given,
      ...(keep === undefined ? [] : ["--keep", keep]),
      "--part",
      part,
    ];
    const child = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "inherit"] });
    const lines = createInterface({ input: child.stdout });
    lines.on("line", take);
    lines.on("close", resolve);
  });

const headOf = ({ names, runs, seed, followUps }: TrialOptions): string =>
  JSON.stringify({ trial: 2, ...names, runs, seed, followUps });

/** The cases of an earlier try of the same trial. A line cut short by a fall of the computer is left out. */
const keptIn = (options: TrialOptions): Result<ReadonlyMap<number, TriedCase>> => {
  const { keep } = options;
  if (keep === undefined || !existsSync(keep)) return good(new Map());
  const [head = "", ...lines] = readFileSync(keep, "utf8").split("\n");
  if (head !== headOf(options))
    return bad(problem(keep, "holds another trial", "name another file, or the options it was begun with"));
  return good(new Map(lines.flatMap((line) => readLine(line))));
};

const lineIn = (text: string): CaseLine => JSON.parse(text);

const readLine = (line: string): readonly (readonly [number, TriedCase])[] => {
  try {
    const { n, case: tried } = lineIn(line);
    return [[n, tried]];
  } catch {
    return [];
  }
};
