import { placeInWords } from "../../data/rack/rack.ts";
import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import type { Seconds } from "../../domain/units.ts";
import { fileLibrary } from "../../io/files/files.ts";
import type { JobSheet } from "../../reports/job-sheet.ts";
import { type FixtureLine, type RackSheet, tellRackSheet } from "../../reports/rack-sheet.ts";
import { type Batch, type Member, openBatch } from "../../run/batch/batch.ts";
import { expectedOf } from "../../run/batch/expected.ts";
import { stateAtEnd, watchedIn } from "../../run/batch/members.ts";
import { unnamedPresses } from "../../run/batch/which.ts";
import { resultOf } from "../../run/events/step-results.ts";
import type { Journal } from "../../run/ports.ts";
import { deliver, type ExitCode, refuse } from "../common/output.ts";
import { findingsFrom, knowledgeIn, type ShopKnowledge } from "../fixture/play-run.ts";
import { withJournal } from "../journal/with-journal.ts";
import { asItStood, type KeptRack, keptRack } from "./kept-rack.ts";
import { prepareRack } from "./rack-job.ts";

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

/** The page that a rack run leaves: every fixture by its own run in the journal. */
export const rackSheetFrom = async (journal: Journal, batch: Batch, took: Seconds | undefined): Promise<RackSheet> => {
  const { plan, members, record } = batch;
  const fixtures: FixtureLine[] = [];
  const knowledge = await knowledgeIn(journal);
  for (const member of members) fixtures.push(await lineOf(journal, member, knowledge));
  return {
    run: plan.run,
    title: plan.title,
    simulated: plan.opening.simulated,
    ended: record.closed ?? "open",
    fixtures,
    watched: watchedIn(batch),
    unnamed: unnamedPresses(batch).map(({ serials, presses }) => ({ serials, presses })),
    took,
    oneByOne: expectedOf(plan, members, 0).oneByOne,
  };
};

const lineOf = async (journal: Journal, member: Member, knowledge: ShopKnowledge): Promise<FixtureLine> => {
  const { serial, place, run, session } = member;
  const sheet = await findingsFrom(journal, run, session.job.timeline.profile, knowledge);
  const symptoms = sheet.steps.flatMap((step) => step.symptoms.map(({ words }) => words));
  return {
    serial,
    place: placeInWords(place),
    run,
    state: stateAtEnd(member),
    notWatched: notWatchedIn(member),
    symptoms: [...new Set(symptoms)],
    mayBe: symptoms.length > 0 ? likeliest(sheet) : undefined,
    set: sheet.set,
    hidden: sheet.setFound.map(({ words }) => words),
  };
};

/** "most likely tilt belt slack or worn, unlikely ..." */
const likeliest = ({ faults }: Pick<JobSheet, "faults">): string =>
  faults
    .slice(0, 2)
    .map(({ belief, title }) => `${belief}: ${title}`)
    .join("; ");

/** Planned, fitted, and no answer that says anything of the fixture. */
const notWatchedIn = ({ session: { view } }: Member): number =>
  view.steps.filter((step) => !["pass", "fail", "unsure", "not-fitted"].includes(resultOf(step))).length;
