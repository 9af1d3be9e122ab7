import { stringify } from "csv-stringify/sync";
import type { Stock } from "../run/memory/stock.ts";
import type { JobSheet } from "./job-sheet.ts";
import type { RackSheet } from "./rack-sheet.ts";

/**
 * A table for other programs: comma separated, quoted where needed (RFC 4180), with a heading. A cell that a spreadsheet
 * would take for a formula gets an apostrophe before it, so that nothing in it runs (OWASP, CSV injection).
 */
export const csvOf = (columns: readonly string[], rows: readonly (readonly (string | number)[])[]): string =>
  stringify([[...columns], ...rows.map((row) => [...row])], { escape_formulas: true, record_delimiter: "\r\n" });

/** Every fixture of a rack run as a table, one row each. */
export const rackCsv = ({ run: rackRun, fixtures }: RackSheet): string =>
  csvOf(
    ["rack run", "serial", "place", "state", "symptoms", "may be", "run"],
    fixtures.map(({ serial, place, state, symptoms, mayBe, run }) => [
      rackRun,
      serial,
      place,
      state,
      symptoms.join("; "),
      mayBe ?? "",
      run,
    ]),
  );

const STOCK_COLUMNS = ["serial", "profile", "state", "runs", "last run", "at", "faults found", "parts wanted"];

/** Every fixture of the stock as a table, one row each. */
export const stockCsv = ({ fixtures, faults, parts }: Stock): string =>
  csvOf(
    STOCK_COLUMNS,
    fixtures.map(({ serial, profile, state, runs, run, at }) => [
      serial,
      profile,
      state,
      runs,
      run,
      at,
      faults.flatMap(({ fault, serials }) => (serials.includes(serial) ? [fault] : [])).join("; "),
      parts
        .flatMap(({ part, fixtures: waiting }) => (waiting.some((one) => one.serial === serial) ? [part] : []))
        .join("; "),
    ]),
  );

const STEP_COLUMNS = [
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
    STEP_COLUMNS,
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
