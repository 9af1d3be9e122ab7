import { readFileSync } from "node:fs";
import type { Names } from "../../../src/app/common/data.ts";
import { plannedOnly, type TriedCase } from "../../../src/app/simulated/trial-case.ts";
import { halvesOf } from "../../../src/app/simulated/trial-learned.ts";
import { hitsOf } from "../../../src/app/simulated/trial-rates.ts";
import { reportOf } from "../../../src/app/simulated/trial-report.ts";
import { tellTrial } from "../../../src/app/simulated/trial-words.ts";
import { shippedProfile } from "../../kit/shipped.ts";
import { type Row, row } from "../line/row.ts";
import { asMet, distanceOf, distanceRows, tellDistance } from "./distance.ts";
import { judgedAnew } from "./judged-anew.ts";
import { logistic } from "./logistic.ts";
import { asFeatures, type Learnt, naiveBayes } from "./naive-bayes.ts";
import { skewedShops } from "./skewed.ts";

/**
 * What the observations themselves carry, beside what the fault model makes of them: `CASES=a.jsonl,b.jsonl npm run bench --
 * ceiling` reads the cases that `limber trial --keep` has left, all of one kind of fixture and one sequence, tells the trial
 * of all of them together, and lets a naive Bayes and a logistic classifier, trained on the other half of the seeds, name the
 * same faults; what the distance between them is made of is told too. With `INSPECTIONS=2` today's model judges them anew, and so many offered inspections are made. They have learned
 * the simulation and are no solution; they are the ceiling.
 */
export const ceilingBench = async (): Promise<readonly Row[]> => {
  const files = process.env["CASES"]?.split(",") ?? [];
  if (files.length === 0) throw new Error("CASES names no file: see limber trial --keep");
  const names = headOf(files[0] ?? "");
  const inspections = process.env["INSPECTIONS"];
  const kept = files.flatMap(casesIn);
  const cases = inspections === undefined ? kept : judgedAnew(kept, names, Number(inspections));
  const profile = shippedProfile(names.profile);
  const report = reportOf(cases, profile);
  console.log(tellTrial(report, names));
  const { starter, learned } = report;
  const share = ({ right, of }: { readonly right: number; readonly of: number }) => (100 * right) / of;
  const beside = (name: string, named: readonly TriedCase[]): readonly Row[] => {
    const ceiling = hitsOf(named.filter(({ kind }) => kind === "one"));
    return [
      row(`named first, beside ${name}`, "%", share(starter.first), share(ceiling.first)),
      row(`in the first three, beside ${name}`, "%", share(starter.firstThree), share(ceiling.firstThree)),
      row(`learned from other seeds, first, beside ${name}`, "%", share(learned.first), share(ceiling.first)),
      row(`learned, first three, beside ${name}`, "%", share(learned.firstThree), share(ceiling.firstThree)),
    ];
  };
  const bayes = classified(cases, naiveBayes);
  const explained = [distanceOf(cases, profile), asMet(beforeOffers(cases), profile), asMet(bayes, profile)] as const;
  console.log(tellDistance(...explained));
  const shop = skewedShops(halvesOf(cases), profile);
  return [
    ...beside("naive Bayes", bayes),
    ...beside("logistic regression", classified(cases, logistic)),
    ...distanceRows(...explained),
    row("skewed shops, after 300 finds, beside none: first", "%", 100 * shop.after, 100 * shop.before),
    row("skewed shops, after 300 finds: clean named clean", "%", 100 * shop.clean),
  ];
};

/** As they were judged before anything that was offered was done. */
const beforeOffers = (cases: readonly TriedCase[]) => cases.map((one) => ({ ...one, ranked: one.rankedBefore }));

const linesOf = (file: string): readonly string[] => readFileSync(file, "utf8").trim().split("\n");
const headOf = (file: string) => JSON.parse(linesOf(file)[0] ?? "") as Names;
const casesIn = (file: string): readonly TriedCase[] =>
  linesOf(file)
    .slice(1)
    .map((line) => JSON.parse(line) as { readonly n: number; readonly case: TriedCase })
    .sort((a, b) => a.n - b.n)
    // Older trials never closed a fixture again.
    .map((line) => ({ ...line.case, closedAfter: line.case.closedAfter ?? [] }));

/** Each half named by what the other half teaches, from the planned steps alone; the classes are the faults that were set, and "clean". */
const classified = (cases: readonly TriedCase[], train: typeof naiveBayes): readonly TriedCase[] => {
  const single = cases.filter(({ kind }) => kind === "one" || kind === "clean");
  const [even, odd] = halvesOf(single);
  return [
    [even, odd],
    [odd, even],
  ].flatMap(([half = [], others = []]) => {
    const classify = train(others.map(lessonOf));
    return half.map((one) => ({ ...one, ranked: answersOf(classify(asFeatures(plannedOnly(one))), others) }));
  });
};

const CLEAN = "nothing-broken";
const classOf = ({ kind, set }: TriedCase): string => (kind === "clean" ? CLEAN : set.join());
const lessonOf = (one: TriedCase): Learnt => ({ is: classOf(one), features: asFeatures(plannedOnly(one)) });

/** A class stands for the first answer that a repairer would accept for it. */
const answersOf = (
  classes: readonly { readonly is: string; readonly probability: number }[],
  known: readonly TriedCase[],
) =>
  classes.slice(0, 8).map(({ is, probability }) => ({
    id: known.find((one) => classOf(one) === is)?.right[0]?.[0] ?? CLEAN,
    probability,
  }));
