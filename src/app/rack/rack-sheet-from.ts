import { placeInWords } from "../../data/rack/rack.ts";
import type { Seconds } from "../../domain/units.ts";
import type { JobSheet } from "../../reports/job-sheet.ts";
import type { FixtureLine, RackSheet } from "../../reports/rack-sheet.ts";
import type { Batch, Member } from "../../run/batch/batch.ts";
import { expectedOf } from "../../run/batch/expected.ts";
import type { Journal } from "../../run/ports.ts";
import { knowledgeIn, type ShopKnowledge, sheetFrom } from "../fixture/play-run.ts";

/** The page that a rack run leaves: every fixture by its own run in the journal. */
export const rackSheetFrom = async (
  journal: Journal,
  { plan, members, record }: Batch,
  took: Seconds | undefined,
): Promise<RackSheet> => {
  const fixtures: FixtureLine[] = [];
  const knowledge = await knowledgeIn(journal);
  for (const member of members) fixtures.push(await lineOf(journal, member, knowledge));
  return {
    run: plan.run,
    title: plan.title,
    simulated: plan.opening.simulated,
    ended: record.closed ?? "open",
    fixtures,
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
    state: stateOf(member, symptoms.length),
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

const stateOf = ({ state, session }: Member, symptoms: number): string => {
  if (state === "withdrawn") return "withdrawn";
  if (symptoms > 0) return "odd";
  if (session.view.steps.some(({ presses, judged }) => presses.length > 0 && judged === undefined)) return "pressed";
  return session.view.closed === "finished" ? "nothing seen" : "not finished";
};
