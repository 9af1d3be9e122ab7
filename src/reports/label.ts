import { safeText } from "../domain/problem/terminal.ts";
import { RESULTS } from "../domain/trade/results.ts";
import type { JobSheet } from "./job-sheet.ts";

/** Characters that a small label carries in a row, and its rows. */
const COLUMNS = 24;

/** Words for a small label, rows of at most 24 characters: serial, state, date, the run's short code, and where the journal stood. */
export const labelOf = (sheet: JobSheet): readonly string[] =>
  [
    safeText(sheet.fixture.serial),
    stateOf(sheet),
    sheet.begun.slice(0, 10),
    `run ${shortCode(sheet.run)}`,
    ...(sheet.journal === undefined ? [] : [`no. ${sheet.journal}`]),
  ].map((row) => (row.length <= COLUMNS ? row : `${row.slice(0, COLUMNS - 3)}...`));

/** The last part of a run's name tells it apart and can be read aloud. */
const shortCode = (run: string): string => safeText(run.split("-").at(-1) ?? run);

const stateOf = ({ simulated, steps, ended }: JobSheet): string => {
  const failed = steps.filter(({ result }) => result === "fail").length;
  const state =
    ended !== "finished" ? "NOT FINISHED" : failed > 0 ? `${failed} ${RESULTS.fail.toUpperCase()}` : "SWEPT, NO FAIL";
  return simulated ? `SIM ${state}` : state;
};
