import { FAULT_IDS, type FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import { shareOf } from "../../domain/statistics/shares.ts";
import { fileShelf } from "../../io/files/files.ts";
import { PHYSICAL_FAULTS } from "../../sim/physical/faults.ts";
import { loadMaterial, type Names } from "../common/data.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print, refuse } from "../common/print.ts";
import { RIGHT_ANSWERS } from "./right-answers.ts";
import { minutesUntil, USUAL_ORDER } from "./search-minutes.ts";
import { settable } from "./sim-bench.ts";
import { simulatedBuild } from "./simulated-build.ts";
import { simulatedRun } from "./start.ts";

export interface TrialOptions {
  readonly names: Names;
  /** Seeds for every fault. */
  readonly runs: number;
  readonly seed: number;
  readonly json: boolean;
}

interface Case {
  readonly fault: string;
  readonly aside: boolean;
  readonly seed: number;
  /** Place of the first right answer in the ranking, counted from 1; undefined when it is not there. */
  readonly place: number | undefined;
  /** What stood first. */
  readonly first: string;
  /** Minutes of looking by hand until the right fault is looked at: as ranked, and in the usual order. */
  readonly minutes: { readonly ranked: number; readonly usual: number } | undefined;
}

/** Sets every fault the simulated fixture can have, lets the simulated watcher watch, and reports how often the right answer was named. */
export const trial = async (options: TrialOptions): Promise<ExitCode> => {
  const material = loadMaterial(fileShelf(), options.names);
  if (!material.ok) return refuse(material.problems);
  const ids = settable(simulatedBuild(material.value.profile.value, 1), options.seed);
  const cases: Case[] = [];
  for (const fault of ids)
    for (let n = 0; n < options.runs; n++) cases.push(await tryOne(options, fault, options.seed + n));
  const clean = await Promise.all(
    Array.from({ length: options.runs }, (_, n) => tryOne(options, undefined, options.seed + n)),
  );
  const report = {
    simulated: true,
    profile: options.names.profile,
    sequence: options.names.sequence,
    ...summary(cases, clean),
    cases,
  };
  print(options.json ? JSON.stringify(report, undefined, 2) : tell(report));
  return EXIT.done;
};

const tryOne = async ({ names }: TrialOptions, fault: string | undefined, seed: number): Promise<Case> => {
  const set = fault === undefined ? [] : [fault];
  const sheet = await simulatedRun(fileShelf(), { names, address: 1, set, seed, drawFrom: "all", run: "trial" });
  if (!sheet.ok) throw new Error("Bug: a fault that can be set could not be set");
  const right: readonly string[] = fault === undefined ? ["nothing-broken"] : (RIGHT_ANSWERS[fault] ?? []);
  const { faults } = sheet.value;
  // "Nothing broken" is an answer only where nothing was set: a fault that is named below it has still been named.
  const named = fault === undefined ? faults : faults.filter(({ id }) => id !== "nothing-broken");
  const place = named.findIndex(({ id }) => right.includes(id)) + 1;
  return {
    fault: fault ?? "nothing",
    aside: PHYSICAL_FAULTS.find(({ id }) => id === fault)?.aside ?? false,
    seed,
    place: place === 0 ? undefined : place,
    first: faults[0]?.id ?? "",
    minutes:
      fault === undefined
        ? undefined
        : minutesFor(
            named.map(({ id }) => id),
            RIGHT_ANSWERS[fault] ?? [],
          ),
  };
};

/** What the job sheet does not name is looked for in the usual order afterwards. */
const minutesFor = (named: readonly string[], right: readonly FaultId[]) => {
  const ranked = FAULT_IDS.filter((id) => named.includes(id)).sort((a, b) => named.indexOf(a) - named.indexOf(b));
  const order = [...new Set([...ranked, ...USUAL_ORDER])];
  return { ranked: minutesUntil(order, right), usual: minutesUntil(USUAL_ORDER, right) };
};

const rate = (cases: readonly Case[], within: number) => {
  const right = cases.filter(({ place }) => place !== undefined && place <= within).length;
  const { low, high } = shareOf(right, cases.length);
  return { right, of: cases.length, interval95: { low, high } };
};

const summary = (cases: readonly Case[], clean: readonly Case[]) => ({
  first: rate(cases, 1),
  firstThree: rate(cases, 3),
  /** Faults that were kept aside: written without sight of the fault model, and nothing tuned on them. */
  asideFirstThree: rate(
    cases.filter(({ aside }) => aside),
    3,
  ),
  cleanNothingBroken: rate(clean, 1),
  meanMinutes: {
    ranked: mean(cases.flatMap(({ minutes }) => (minutes ? [minutes.ranked] : []))),
    usual: mean(cases.flatMap(({ minutes }) => (minutes ? [minutes.usual] : []))),
  },
  worst: worstOf(cases),
});

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

const worstOf = (cases: readonly Case[]) =>
  [...new Set(cases.map(({ fault }) => fault))]
    .map((fault) => ({
      fault,
      ...rate(
        cases.filter((one) => one.fault === fault),
        3,
      ),
      instead: cases.find((one) => one.fault === fault && (one.place ?? 99) > 3)?.first,
    }))
    .filter(({ right, of }) => right < of)
    .sort((a, b) => a.right / a.of - b.right / b.of);

type Report = ReturnType<typeof summary> & {
  readonly profile: string;
  readonly sequence: string;
  readonly cases: readonly Case[];
};

const tell = (report: Report): string =>
  [
    `SIMULATED: simulated fixtures and a simulated watcher, which is close to the model and so too kind to it.`,
    `${report.profile}, ${report.sequence}, ${report.cases.length} runs with a fault set:`,
    `  right answer first             ${inWords(report.first)}`,
    `  right answer in the first three ${inWords(report.firstThree)}`,
    `  of the faults kept aside        ${inWords(report.asideFirstThree)}`,
    `  nothing set, nothing broken first ${inWords(report.cleanNothingBroken)}`,
    `  minutes by hand to the fault    ${report.meanMinutes.ranked.toFixed(1)} as ranked, ${report.meanMinutes.usual.toFixed(1)} in the usual order`,
    ...(report.worst.length > 0 ? ["Missed most:"] : []),
    ...report.worst
      .slice(0, 12)
      .map(
        ({ fault, right, of, instead }) => `  ${fault.padEnd(28)} ${right} of ${of}, first instead: ${instead ?? "-"}`,
      ),
  ].join("\n");

const inWords = ({ right, of, interval95: { low, high } }: ReturnType<typeof rate>): string =>
  `${right} of ${of} (95 % interval ${Math.round(low * 100)} to ${Math.round(high * 100)} %)`;
