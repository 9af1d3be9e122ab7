import { csvOf } from "./csv.ts";
import type { RackSheet } from "./rack-sheet.ts";

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
