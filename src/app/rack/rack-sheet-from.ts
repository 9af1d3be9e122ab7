import { placeInWords } from "../../data/rack/rack.ts";
import type { Seconds } from "../../domain/units.ts";
import type { JobSheet } from "../../reports/job-sheet.ts";
import type { FixtureLine, RackSheet } from "../../reports/rack-sheet.ts";
import type { Batch, Member } from "../../run/batch/batch.ts";
import { expectedOf } from "../../run/batch/expected.ts";
import { stateAtEnd, watchedIn } from "../../run/batch/members.ts";
import { unnamedPresses } from "../../run/batch/which.ts";
import { resultOf } from "../../run/events/step-results.ts";
import type { Journal } from "../../run/ports.ts";
import { knowledgeIn, type ShopKnowledge, sheetFrom } from "../fixture/play-run.ts";

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
  const sheet = await sheetFrom(journal, run, session.job.timeline.profile, knowledge);
  const symptoms = sheet.steps.flatMap((step) => step.symptoms.map(({ words }) => words));
  return {
    serial,
    place: placeInWords(place),
    run,
    state: stateAtEnd(member),
    notWatched: notWatchedIn(member),
    symptoms: [...new Set(symptoms)],
    mayBe: symptoms.length > 0 ? likeliest(sheet) : undefined,
    set: session.job.opening.set,
  };
};

/** "most likely tilt belt slack or worn, unlikely ..." */
const likeliest = ({ faults }: JobSheet): string =>
  faults
    .slice(0, 2)
    .map(({ belief, title }) => `${belief}: ${title}`)
    .join("; ");

/** Planned, fitted, and no answer that says anything of the fixture. */
const notWatchedIn = ({ session: { view } }: Member): number =>
  view.steps.filter((step) => !["pass", "fail", "unsure", "not-fitted"].includes(resultOf(step))).length;
