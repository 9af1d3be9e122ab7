import { stringify } from "csv-stringify/sync";

/**
 * A table for other programs: comma separated, quoted where needed (RFC 4180), with a heading. A cell that a spreadsheet
 * would take for a formula gets an apostrophe before it, so that nothing in it runs (OWASP, CSV injection).
 */
export const csvOf = (columns: readonly string[], rows: readonly (readonly (string | number)[])[]): string =>
  stringify([[...columns], ...rows.map((row) => [...row])], { escape_formulas: true, record_delimiter: "\r\n" });
