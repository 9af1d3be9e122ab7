import { safeText } from "../../domain/problem/terminal.ts";
import { openJournal } from "../../io/store/journal.ts";
import { many } from "../../reports/stock-words.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print } from "../common/print.ts";
import { withJournal } from "./with-journal.ts";

/** Makes the derived tables anew from the events. */
export const rebuild = (file: string): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    const { events, runs, fixtures } = await journal.rebuild();
    print(`Rebuilt from ${many(events, "event")}: ${many(runs, "run")}, ${many(fixtures, "fixture")}.`);
    return EXIT.done;
  });

/** A whole copy of the journal, also while a run is being written to it; it counts as made once it has been opened and read. */
export const backup = (file: string, to: string): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    await journal.backup(to);
    const copy = await openJournal(to);
    try {
      print(`Copied: ${safeText(to)}, ${many((await copy.briefs({ kind: "all" })).length, "run")}, opened and read.`);
    } finally {
      await copy.close();
    }
    return EXIT.done;
  });
