import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import type { Seconds } from "../../domain/units.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { type RackSheet, tellRackSheet } from "../../reports/rack-sheet.ts";
import { openBatch } from "../../run/batch/batch.ts";
import type { Journal } from "../../run/ports.ts";
import { deliver } from "../common/deliver.ts";
import type { ExitCode } from "../common/exit.ts";
import { refuse } from "../common/print.ts";
import { withJournal } from "../journal/with-journal.ts";
import { type KeptRack, keptRack } from "./kept-rack.ts";
import { prepareRack } from "./rack-prepare.ts";
import { asItStood } from "./rack-resume.ts";
import { rackSheetFrom } from "./rack-sheet-from.ts";

export interface RackSheetOptions {
  readonly journal: string;
  readonly as: "text" | "json" | "csv" | "html";
  /** A file to write; without it the sheet is printed. */
  readonly out: string | undefined;
}

/** What came of a rack run in the journal, every fixture in a line. */
export const showRackSheet = (name: string, { journal: file, as, out }: RackSheetOptions): Promise<ExitCode> =>
  withJournal(file, async (journal) => {
    const kept = await keptRack(journal, name);
    if (!kept.ok) return refuse(kept.problems);
    const wanted = {
      run: kept.value.run,
      person: "",
      learned: NOTHING_LEARNED,
      output: "sim",
      set: new Map(),
      seed: 1,
    };
    const ready = prepareRack(fileLibrary(), kept.value.material, wanted, (job) => asItStood(job, kept.value));
    if (!ready.ok) return refuse(ready.problems);
    const { plan, members } = ready.value.job;
    const batch = openBatch({ ...plan, opening: kept.value.opened }, members, "", kept.value.view);
    return deliver(await inForm(await rackSheetFrom(journal, batch, await tookOf(journal, kept.value)), as), out);
  });

/** How long a rack run took by the computer's clock, breaks included; simulated runs may take no time at all. */
const tookOf = async (journal: Journal, { run, opened, view }: KeptRack): Promise<Seconds | undefined> => {
  if (opened.simulated || view.closed === undefined) return undefined;
  const events = await journal.events(run);
  return (Date.parse(events.at(-1)?.at ?? "") - Date.parse(events[0]?.at ?? "")) / 1000;
};

const inForm = async (sheet: RackSheet, form: RackSheetOptions["as"]): Promise<string> => {
  switch (form) {
    case "text":
      return tellRackSheet(sheet);
    case "json":
      return JSON.stringify(sheet, undefined, 2);
    case "csv":
      return (await import("../../reports/tables.ts")).rackCsv(sheet);
    case "html":
      return (await import("../../reports/page/rack-page.ts")).rackPage(sheet);
    default:
      return form satisfies never;
  }
};
