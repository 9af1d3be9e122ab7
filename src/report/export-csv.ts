import type { BriefStep, RunBrief } from "../record/brief.ts";
import { csvOf } from "./csv.ts";

const RUN_COLUMNS = ["serial", "profile", "run", "at", "bench", "person", "sequence", "simulated", "replays"] as const;
const COLUMNS = [...RUN_COLUMNS, "what", "of", "functions", "routine", "result", "symptoms", "presses", "note"];

/** All that is known of all runs as one table: a row for every step, every look by hand and every find. */
export const exportCsv = (runs: readonly RunBrief[]): string => csvOf(COLUMNS, runs.flatMap(rowsOf));

const rowsOf = (run: RunBrief): readonly (readonly (string | number)[])[] => {
  const head = RUN_COLUMNS.map((column) => String(run[column] ?? ""));
  return [
    ...run.steps.map((step) => [...head, ...stepCells(step)]),
    ...run.looks.map(({ inspection, answer, note }) => [...head, "look", inspection, "", "", answer, "", "", note]),
    ...run.finds.map((find) => [
      ...head,
      "find",
      find.what === "fault" ? find.fault : find.what,
      "",
      "",
      "",
      "",
      "",
      find.note,
    ]),
  ];
};

const stepCells = (step: BriefStep): readonly (string | number)[] => [
  "step",
  step.id,
  step.functions.join("+") || "fixture",
  step.routine,
  step.result,
  step.symptoms.map(({ symptom, function: id }) => (id === undefined ? symptom : `${id} ${symptom}`)).join("; "),
  step.presses,
  step.note,
];
