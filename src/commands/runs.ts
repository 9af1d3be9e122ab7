import type { Journal } from "../ports.ts";
import { safeText } from "../problem/terminal.ts";
import type { RunEvent } from "../record/event.ts";
import { type RunView, viewOf } from "../record/view.ts";
import { openJournal } from "../store/journal.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { print } from "./print.ts";

export interface RunEntry {
  readonly run: string;
  readonly at: string;
  readonly person: string;
  readonly view: RunView;
}

/** Every run in the journal, oldest first. */
export const runsIn = async (journal: Journal): Promise<readonly RunEntry[]> => {
  const byRun = new Map<string, RunEvent[]>();
  for (const event of await journal.events()) {
    const events = byRun.get(event.run);
    if (events) events.push(event);
    else byRun.set(event.run, [event]);
  }
  return [...byRun].map(([run, events]) => ({
    run,
    at: events[0]?.at ?? "",
    person: events[0]?.person ?? "",
    view: viewOf(events.map(({ body }) => body)),
  }));
};

export const listRuns = async (file: string, json: boolean): Promise<ExitCode> => {
  const journal = await openJournal(file);
  try {
    const runs = await runsIn(journal);
    if (json) print(JSON.stringify(runs.map(runData), undefined, 2));
    else for (const line of runs.length > 0 ? runs.map(runLine) : ["No run yet."]) print(line);
    return EXIT.done;
  } finally {
    await journal.close();
  }
};

const runData = ({ run, at, person, view }: RunEntry) => ({
  run,
  at,
  person,
  serial: view.opened?.fixture.serial,
  profile: view.opened?.profile.name,
  sequence: view.opened?.sequence.name,
  simulated: view.opened?.simulated,
  ended: view.closed ?? "open",
  judged: view.steps.filter(({ judged }) => judged).length,
  steps: view.steps.length,
});

const runLine = (entry: RunEntry): string => {
  const { run, at, serial, profile, sequence, simulated, ended, judged, steps } = runData(entry);
  const state =
    ended === "finished" ? "finished" : `${judged} of ${steps} steps, ${ended === "open" ? "not finished" : ended}`;
  return safeText(
    `${run}  ${at.slice(0, 16).replace("T", " ")}  ${serial}  ${profile}  ${sequence}  ${state}${simulated ? "  simulated" : ""}`,
  );
};
