import { safeText } from "../domain/problem/terminal.ts";
import { VERDICT_WORDS } from "../run/release/verdict.ts";
import type { JobSheet } from "./job-sheet.ts";
import { cut, wrapped } from "./wrap.ts";

/** Columns that a small label carries in a row. */
const COLUMNS = 24;

/**
 * Words for a small label, rows of at most 24 columns: the verdict, why or at which level, what is due next, serial, date,
 * the run's short code, and where the journal stood.
 */
export const labelOf = (sheet: JobSheet): readonly string[] =>
  [
    stateOf(sheet),
    ...whyOf(sheet),
    ...(sheet.dueNext === "" ? [] : wrapped(safeText(sheet.dueNext), COLUMNS)),
    safeText(sheet.fixture.serial),
    sheet.begun.slice(0, 10),
    `run ${shortCode(sheet.run)}`,
    ...(sheet.journal === undefined ? [] : [`no. ${sheet.journal}`]),
  ].map((row) => cut(row, COLUMNS));

/** The last part of a run's name tells it apart and can be read aloud. */
const shortCode = (run: string): string => safeText(run.split("-").at(-1) ?? run);

/** What is wrong with it, or how thoroughly it was released and by whom; what is only still to be done does not fit. */
const whyOf = ({ verdict }: JobSheet): readonly string[] => {
  if (verdict.kind === "released") return [safeText(`level ${verdict.level}, ${verdict.by}`)];
  return verdict.kind === "do-not-use" || verdict.kind === "needs-work"
    ? verdict.because.slice(0, 1).map(safeText)
    : [];
};

/** Simulated, so that nobody sticks it on a real one. */
const stateOf = ({ simulated, verdict }: JobSheet): string =>
  `${simulated ? "SIM " : ""}${VERDICT_WORDS[verdict.kind].toUpperCase()}`;
