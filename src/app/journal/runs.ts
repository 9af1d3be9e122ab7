import { existsSync } from "node:fs";
import { safeText } from "../../domain/problem/terminal.ts";
import { journalPlace } from "../../io/data-folder.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import { EXIT, type ExitCode } from "../common/exit.ts";
import { print } from "../common/print.ts";
import { withJournal } from "./with-journal.ts";

/** The runs in the journal, oldest first. */
export const listRuns = async (file: string, json: boolean): Promise<ExitCode> => {
  if (file === journalPlace(process.env) && !existsSync(file)) return list([], json);
  return withJournal(file, async (journal) => list(await journal.briefs({ kind: "all" }), json));
};

const list = (runs: readonly RunSummary[], json: boolean): ExitCode => {
  if (json) print(JSON.stringify(runs.map(runData), undefined, 2));
  else for (const line of runs.length > 0 ? runs.map(runLine) : ["No run yet."]) print(line);
  return EXIT.done;
};

const runData = ({ run, at, person, serial, profile, sequence, simulated, ended, steps }: RunSummary) => ({
  run,
  at,
  person,
  serial,
  profile,
  sequence,
  simulated,
  ended,
  judged: steps.filter(({ result }) => result !== "not-asked").length,
  steps: steps.length,
});

const runLine = (brief: RunSummary): string => {
  const { run, at, serial, profile, sequence, simulated, ended, judged, steps } = runData(brief);
  const state =
    ended === "finished" ? "finished" : `${judged} of ${steps} steps, ${ended === "open" ? "not finished" : ended}`;
  return safeText(
    `${run}  ${at.slice(0, 16).replace("T", " ")}  ${serial}  ${profile}  ${sequence}  ${state}${simulated ? "  simulated" : ""}`,
  );
};
