import { readFileSync } from "node:fs";
import type { TriedCase } from "../../../src/app/simulated/trial-case.ts";
import { hitsOf } from "../../../src/app/simulated/trial-rates.ts";
import { halvesOf, reportOf } from "../../../src/app/simulated/trial-report.ts";
import { tellTrial } from "../../../src/app/simulated/trial-words.ts";
import { shippedProfile } from "../../kit/shipped.ts";
import { type Row, row } from "../line/row.ts";
import { asFeatures, type Learnt, naiveBayes } from "./naive-bayes.ts";

/**
 * What the observations themselves carry, beside what the fault model makes of them: `CASES=a.jsonl,b.jsonl npm run bench --
 * ceiling` reads the cases that `limber trial --keep` has left, all of one kind of fixture and one sequence, tells the trial
 * of all of them together, and lets a naive Bayes classifier, trained on the other half of the seeds, name the same faults.
 * It has learned the simulation and is no solution; it is the ceiling.
 */
export const ceilingBench = async (): Promise<readonly Row[]> => {
  const files = process.env["CASES"]?.split(",") ?? [];
  if (files.length === 0) throw new Error("CASES names no file: see limber trial --keep");
  const cases = files.flatMap(casesIn);
  const names = headOf(files[0] ?? "");
  const report = reportOf(cases, shippedProfile(names.profile));
  console.log(tellTrial(report, names));
  const ceiling = hitsOf(classified(cases).filter(({ kind }) => kind === "one"));
  const { starter, learned } = report;
  const share = ({ right, of }: { readonly right: number; readonly of: number }) => (100 * right) / of;
  return [
    row("named first, beside the ceiling", "%", share(starter.first), share(ceiling.first)),
    row("in the first three, beside the ceiling", "%", share(starter.firstThree), share(ceiling.firstThree)),
    row("learned from other seeds, first, beside the ceiling", "%", share(learned.first), share(ceiling.first)),
    row("learned, first three, beside the ceiling", "%", share(learned.firstThree), share(ceiling.firstThree)),
  ];
};

const linesOf = (file: string): readonly string[] => readFileSync(file, "utf8").trim().split("\n");
const headOf = (file: string) =>
  JSON.parse(linesOf(file)[0] ?? "") as { readonly profile: string; readonly sequence: string };
const casesIn = (file: string): readonly TriedCase[] =>
  linesOf(file)
    .slice(1)
    .map((line) => JSON.parse(line) as { readonly n: number; readonly case: TriedCase })
    .sort((a, b) => a.n - b.n)
    .map((line) => line.case);

/** Each half named by what the other half teaches; the classes are the faults that were set, and "clean". */
const classified = (cases: readonly TriedCase[]): readonly TriedCase[] => {
  const single = cases.filter(({ kind }) => kind === "one" || kind === "clean");
  const [even, odd] = halvesOf(single);
  return [
    [even, odd],
    [odd, even],
  ].flatMap(([half = [], others = []]) => {
    const classify = naiveBayes(others.map(lessonOf));
    return half.map((one) => ({ ...one, ranked: answersOf(classify(asFeatures(one.observations)), others) }));
  });
};

const CLEAN = "nothing-broken";
const classOf = ({ kind, set }: TriedCase): string => (kind === "clean" ? CLEAN : set.join());
const lessonOf = (one: TriedCase): Learnt => ({ is: classOf(one), features: asFeatures(one.observations) });

/** A class stands for the first answer that a repairer would accept for it. */
const answersOf = (
  classes: readonly { readonly is: string; readonly probability: number }[],
  known: readonly TriedCase[],
) =>
  classes.slice(0, 8).map(({ is, probability }) => ({
    id: known.find((one) => classOf(one) === is)?.right[0]?.[0] ?? CLEAN,
    probability,
  }));
