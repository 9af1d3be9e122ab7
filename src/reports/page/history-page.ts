import { h } from "hastscript";
import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { sayOf } from "../../diagnosis/model/reasons.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { functionWords } from "../../domain/trade/functions.ts";
import { symptomWords } from "../../domain/trade/symptoms.ts";
import type { ReportedSymptom } from "../../run/events/event.ts";
import type { FixtureHistory, PastRun } from "../../run/memory/history.ts";
import { verdictInWords, verdictOf } from "../../run/release/release-status.ts";
import { ENDED } from "../job-sheet-text.ts";
import { hoursInWords, many } from "../status-words.ts";
import { documentOf, list, type Piece, section, table } from "./document.ts";
import { resultGrid } from "./pictures.ts";

/** How many runs are side by side on a telephone. */
const MOST_RUNS = 8;

/** One fixture from run to run as a page: what it may be used for, how each function did over time, what was found and repaired. */
export const historyPage = (history: FixtureHistory): string => {
  const { serial, profile, standing, runs, simulated } = history;
  return documentOf(`History: ${safeText(serial)}`, [
    h("h1", safeText(serial)),
    h("p", { class: "verdict" }, safeText(verdictInWords(verdictOf(standing)))),
    ...(simulated ? [h("p", { class: "notice" }, "SIMULATED: a simulated fixture, not a real one.")] : []),
    h("p", `${safeText(profile)}; ${many(runs.length, "run")}.`),
    ...section("Function by function", overTime(history)),
    ...section("Came back", returns(history)),
    ...section(
      "Run by run, oldest first",
      table("What was seen, found and repaired", ["Run", "Result", "What"], runs.map(runRow)),
    ),
    ...section("What blocks the release", list(standing.reasons.map(({ words }) => safeText(words)))),
  ]);
};

/** The latest runs in which anything was tested, each in a column. */
const overTime = ({ functions }: FixtureHistory): readonly Piece[] => {
  const begun = new Map(functions.flatMap(({ results }) => results.map(({ run, at }) => [run, at] as const)));
  const shown = [...begun].sort(([, a], [, b]) => (a < b ? -1 : a > b ? 1 : 0)).slice(-MOST_RUNS);
  const rows = functions.map(({ function: id, results }) => ({
    name: id === "fixture" ? "whole fixture" : functionWords(id),
    results: shown.map(([run]) => results.find((one) => one.run === run)?.worst),
  }));
  const left = begun.size - shown.length;
  return resultGrid(
    `The worst of each run, oldest left${left > 0 ? `; ${many(left, "earlier run")} left out` : ""}.`,
    "Function",
    shown.map(([, at]) => at.slice(5, 10)),
    rows.filter(({ results }) => results.some((told) => told !== undefined)),
  );
};

const returns = (history: FixtureHistory): readonly Piece[] =>
  list(
    history.returns.map(
      (one) =>
        `${one.kind === "fault" ? knownFault(one.fault).title : saySymptom(one)}: again after ${hoursInWords(one.hours)}`,
    ),
  );

const saySymptom = ({ symptom, function: id }: ReportedSymptom): string =>
  id === undefined ? symptomWords(symptom) : sayOf([functionWords(id)], symptom);

const runRow = (run: PastRun): readonly string[] => [
  run.at.slice(0, 10),
  ENDED[run.ended],
  safeText([run.sequence, ...whatIn(run)].join("; ")),
];

const whatIn = ({ wrong, finds, repairs }: PastRun): readonly string[] => [
  ...wrong.map(
    ({ functions, symptoms }) =>
      `${functions.map(functionWords).join(", ") || "whole fixture"}: ${symptoms.map(saySymptom).join(", ") || "not as it should be"}`,
  ),
  ...finds.map(
    (find) => `found: ${find.what === "fault" ? knownFault(find.fault).title : FOUND[find.what]}${noted(find.note)}`,
  ),
  ...repairs.map(
    (repair) =>
      `repaired: ${repair.what === "fault" ? knownFault(repair.fault).title : "something else"}, ${repair.minutes} min, ${repair.initials}${noted(repair.note)}`,
  ),
];

const FOUND = { nothing: "nothing", "something-else": "something else" } as const;
const noted = (note: string): string => (note === "" ? "" : ` (${note})`);
