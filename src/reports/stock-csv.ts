import type { Stock } from "../run/memory/stock.ts";
import { csvOf } from "./csv.ts";

const COLUMNS = ["serial", "profile", "state", "runs", "last run", "at", "faults found", "parts wanted"];

/** Every fixture of the stock as a table, one row each. */
export const stockCsv = ({ fixtures, faults, parts }: Stock): string =>
  csvOf(
    COLUMNS,
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
