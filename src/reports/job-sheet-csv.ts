import { csvOf } from "./csv.ts";
import type { JobSheet } from "./job-sheet.ts";

const COLUMNS = [
  "serial",
  "run",
  "begun",
  "step",
  "function",
  "routine",
  "result",
  "symptoms",
  "presses",
  "rig",
  "note",
];

/** The steps of a job sheet as a table, one row each. */
export const jobSheetCsv = ({ fixture, run, begun, steps }: JobSheet): string =>
  csvOf(
    COLUMNS,
    steps.map((step) => [
      fixture.serial,
      run,
      begun,
      step.id,
      step.function,
      step.routine,
      step.result,
      step.symptoms.map(({ id, function: on }) => (on === undefined ? id : `${on} ${id}`)).join("; "),
      step.presses,
      step.rig,
      step.note,
    ]),
  );
