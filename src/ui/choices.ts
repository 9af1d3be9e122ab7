import { placeInWords } from "../data/rack/rack.ts";
import { knownFault } from "../diagnosis/model/knowledge/faults.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { cleaning, DIRT, DIRT_IDS } from "../domain/trade/cleanings.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { inspection } from "../domain/trade/inspections.ts";
import { symptomWords } from "../domain/trade/symptoms.ts";
import { followUpInWords, offeredInWords } from "../reports/next-words.ts";
import { type Batch, lookedAtAlone, memberAt } from "../run/batch/batch.ts";
import { guardedBy } from "../run/batch/guarded.ts";
import type { HandTask } from "../run/session/by-hand/task.ts";
import { stepAt, stepInWords } from "../run/session/job.ts";
import type { Session } from "../run/session/session.ts";
import { silentOn, watchedWords } from "./confirming-rows.ts";
import { waysToFixtures } from "./fixture-keys.ts";
import type { KeyPlan } from "./key-plan.ts";
import { askingPage, movable } from "./question-keys.ts";
import type { AskingStage, Desk } from "./sight.ts";
import { aboutInWords, aboutsOf, MOST } from "./symptom-pages.ts";
import type { Choice } from "./view.ts";

/**
 * The answers to the open question in the order in which the press button goes through them, the commonest first; none
 * while it moves, and none for a page that is guarded: that wants a letter of its own.
 */
export const choicesAt = (batch: Batch, desk: Desk, plan: KeyPlan): readonly Choice[] => {
  const alone = lookedAtAlone(batch);
  return alone ? choicesOfOne(alone.session, desk, plan) : choicesOfSeveral(batch, desk, plan);
};

const choicesOfOne = (session: Session, desk: Desk, plan: KeyPlan): readonly Choice[] => {
  const { stage } = session;
  const { absent } = plan.letters;
  switch (stage.kind) {
    case "asking":
      return desk.choosing === undefined ? symptomChoices(session, desk, stage, plan) : functionChoices(session, desk);
    case "confirming":
      return [
        choice(desk.excepted.length > 0 ? "all but the marked were good" : "I watched all of these", "enter"),
        choice("I did not watch them", absent),
        ...silentOn(desk, stage.indexes).map((at, digit) =>
          choice(
            `${desk.excepted.includes(at) ? "it was good after all" : "it was wrong"}: ${stepInWords(stepAt(session.job, stage.indexes[at] ?? 0))}`,
            `${digit + 1}`,
          ),
        ),
        ...undoing(plan),
      ];
    case "what-moved":
      return [...movedChoices(session, desk), choice("skip it", absent)];
    case "setting-found":
      return [choice("skip it", absent)];
    case "placed":
      return [
        choice("continue the run", "enter"),
        ...stage.tests.map((test, at) => choice(followUpInWords(test), `${at + 1}`)),
        choice("back to the fault position", plan.letters.return),
        ...undoing(plan),
      ];
    case "what-next":
      return [
        ...stage.offers.map((offer, at) => choice(offeredInWords(offer), `${at + 1}`)),
        choice("no more tests, show the job sheet", "enter"),
      ];
    case "by-hand":
      return guardedBy(stage) === undefined ? handChoices(stage.task, plan) : [];
    default:
      return [];
  }
};

const choice = (words: string, ...keys: readonly string[]): Choice => ({ words, keys });
const undoing = ({ letters }: KeyPlan): readonly Choice[] => [choice("undo the answer before", letters.undo)];

/** A step that somebody pressed in is asked for its symptom first, a quiet one whether all was well. */
const symptomChoices = (session: Session, desk: Desk, stage: AskingStage, plan: KeyPlan): readonly Choice[] => {
  const pressed = (session.view.steps[stage.index]?.presses.length ?? 0) > 0;
  const { good, failed, unsure } = plan.letters;
  const usual = stage.symptoms.length > 0 ? [choice("it failed, with the symptoms named", "enter")] : [];
  const well = choice("nothing was wrong", good);
  return [
    ...(pressed ? usual : [...usual, well]),
    ...askingPage(desk, session, stage).symptoms.map((id, at) => choice(symptomWords(id), `${at + 1}`, "enter")),
    ...(pressed ? [well] : []),
    choice("unsure", unsure),
    choice("it failed, but with none of these", failed),
    choice("more symptoms", "0"),
    ...otherFunctions(session, stage),
    choice("repeat the step", ...plan.again.slice(0, 1)),
    ...undoing(plan),
  ];
};

const otherFunctions = ({ job }: Session, { index }: AskingStage): readonly Choice[] =>
  aboutsOf(job, index).length > 1 ? [choice("it was another function", "tab")] : [];

const functionChoices = ({ job, stage }: Session, { choosing = 0 }: Desk): readonly Choice[] =>
  stage.kind === "asking"
    ? [
        ...aboutsOf(job, stage.index)
          .slice(choosing * MOST, (choosing + 1) * MOST)
          .map((about, at) => choice(aboutInWords(about), `${at + 1}`)),
        choice("more functions", "0"),
      ]
    : [];

const movedChoices = (session: Session, { page }: Desk): readonly Choice[] => [
  ...movable(session)
    .slice(page * MOST, (page + 1) * MOST)
    .map((what, at) => choice(what === "nothing" ? "nothing moved" : functionWords(what), `${at + 1}`)),
  choice("more functions", "0"),
];

const handChoices = (task: HandTask, { letters, again }: KeyPlan): readonly Choice[] => {
  const { good, failed, unsure, absent, undo } = letters;
  switch (task.kind) {
    case "look":
      return [
        choice("good", good),
        choice("not good", failed),
        choice("unsure", unsure),
        choice("not inspected", absent),
        choice("the inspection before", undo),
      ];
    case "looks":
      return [
        choice("I inspected all of these, they are good", good),
        ...task.inspections.map((id, at) => choice(`not good, or not inspected: ${inspection(id).look}`, `${at + 1}`)),
        choice("the inspection before", undo),
      ];
    case "dirt":
      return DIRT_IDS.map((id, at) => choice(DIRT[id].words, `${at + 1}`));
    case "fault":
      return [
        ...task.choices.map((id, at) => choice(knownFault(id).title, `${at + 1}`)),
        choice("something else", "9"),
        choice("no fault, or no other", absent),
      ];
    case "cleans":
      return [
        choice("all of this is done", good),
        choice("dirty in another way", ...again.slice(0, 1)),
        ...task.cleanings.map((id, at) => choice(`by itself: ${cleaning(id).what}`, `${at + 1}`)),
      ];
    case "clean":
      return [choice("all of this is done", good), choice("left out", absent)];
    case "mend":
      return [choice("it is repaired, as written here", "enter"), choice("not repaired now", absent)];
    case "blocked":
      return [
        choice(task.dangers[0].wants === "repair" ? "it is repaired: say what was done" : "inspect it again", "enter"),
        choice("another repair for the record", ...again.slice(0, 1)),
        choice("end here, locked out", absent),
        choice("undo the answer before", undo),
      ];
    case "reading":
      return [choice("in limit", good), choice("out of limit", failed), choice("not measured", absent)];
    default:
      return task.kind === "sign" ? [choice("another repair for the record", ...again.slice(0, 1))] : [];
  }
};

/** Letters name fixtures. */
const choicesOfSeveral = (batch: Batch, desk: Desk, plan: KeyPlan): readonly Choice[] => {
  const { stage } = batch;
  const again = plan.again.slice(0, 1);
  switch (stage.kind) {
    case "confirming":
      return [
        choice(watchedWords(batch, desk), "enter"),
        ...fixtureChoices(batch, desk, plan, (name, index) =>
          desk.excepted.includes(index) ? `${name}: I watched it after all` : `${name}: I did not watch it`,
        ),
        choice("I was not there, none of these counts", ...again),
      ];
    case "which":
      return [...fixtureChoices(batch, desk, plan, (name) => `it was ${name}`), choice("go on", "enter")];
    case "line-lost":
      return stage.back ? [] : [choice("continue without them", ...again)];
    default:
      return [];
  }
};

const fixtureChoices = (
  batch: Batch,
  desk: Desk,
  plan: KeyPlan,
  words: (name: string, index: number) => string,
): readonly Choice[] =>
  [...waysToFixtures(batch, desk, plan)]
    .filter(([index]) => !isNamed(batch, index))
    .map(([index, keys]) => choice(words(fixtureName(batch, index), index), ...keys));

/** A fixture by its serial number and its place in the rack. `index` is that place, from 0. */
export const fixtureName = (batch: Batch, index: number): string => {
  const { serial, place } = memberAt(batch, index);
  return `${safeText(serial)}, ${safeText(placeInWords(place))}`;
};

const isNamed = ({ stage }: Batch, index: number): boolean =>
  stage.kind === "which" && (stage.named.includes(index) || !isAsked(stage.next.members, index));

/** Who moved, or one of those who moved together. */
const isAsked = (members: readonly number[], index: number): boolean => members.length < 2 || members.includes(index);
