import { placeInWords } from "../data/rack/rack.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { ROUTINES } from "../domain/trade/routines.ts";
import { spanInWords } from "../reports/status-words.ts";
import { type Batch, memberAt, type RackNext, type RackStageOf } from "../run/batch/batch.ts";
import { stepOf, turnOf } from "../run/batch/flow.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { headlineOf, REMIND_AFTER_S, REMINDER } from "./moving-rows.ts";
import { sensorAlarms } from "./sensor-lines.ts";
import type { RackSight } from "./sight.ts";
import { leftOfStep } from "./time-words.ts";
import { capital, type Line, type RackPageView, said, toAnswer } from "./view.ts";

/** The page while a group plays a step: what it is, what to watch for, and which key means which fixture. */
export const movingTold = (sight: RackSight, stage: RackStageOf<"moving">): RackPageView => {
  const { batch, frame } = sight;
  const { next } = stage;
  const step = stepOf(batch, next);
  const what = step.functions.length > 0 ? ROUTINES[step.routine].words : "the whole fixture";
  const again = stage.attempt > 1 ? `, try ${stage.attempt}` : "";
  const group = `${capital(safeText(turnOf(batch, next).name))}`;
  return {
    headline: headlineOf(step),
    far: headlineOf(step),
    where: whereOf(batch, next),
    above: [
      ...said(`${group}. ${together(next)} ${what}${again}, ${spanInWords(leftOfStep(step, frame))} left.`),
      ...said(`${frame < step.leadIn ? "It moves to the start. " : ""}Watch for: ${safeText(step.watch)}.`, "strong"),
      ...said(unclaimed(stage), "strong"),
      ...(step.routine === "soak" ? alarms(sight) : []),
    ],
    below: keysRows(sight, stage),
  };
};

const MOST_ALARMS = 3;
/** Whose heat or fan is off its range, wherever in the rack: rows of fixtures may be on another page. */
const alarms = ({ batch }: RackSight): readonly Line[] => {
  const all = batch.members.flatMap(({ session, serial }) => sensorAlarms(session.view, serial));
  const more = all.length - MOST_ALARMS;
  return [...all.slice(0, MOST_ALARMS), ...said(more > 0 ? `! ${more} more off their range.` : "", "alert")];
};

const together = ({ members }: RackNext): string =>
  members.length === 1 ? "One fixture:" : `${members.length} together:`;

/** "step 3 of 28". */
const whereOf = (batch: Batch, { index, members }: RackNext): string => {
  const steps = batch.members[members[0] ?? 0]?.session.job.opening.steps.length ?? 0;
  return `step ${index + 1} of ${steps}`;
};

const unclaimed = (stage: RackStageOf<"moving">): string => {
  const count = stage.unclaimed.length;
  return count === 0 ? "" : `Pressed ${count === 1 ? "once" : `${count} times`}. You say which one after this step.`;
};

const keysRows = (sight: RackSight, { wanted }: RackStageOf<"moving">): readonly Line[] => {
  const { plan, quiet, batch } = sight;
  if (batch.plan.asks === "who-moved")
    return said(
      `Watch which one moves. You say it afterwards. Repeat: ${anyOf(plan.again)}. Stop it all: ${anyOf(plan.stop)}.`,
    );
  const breaks = keyWords(plan.letters.away);
  return [
    ...said(quiet >= REMIND_AFTER_S ? `! ${REMINDER}` : "", "alert"),
    ...said(wanted ? "After this step: pause." : "", "strong"),
    ...said(
      `One differs: press its letter. Wrong letter, or area not clear: ${keyWords(plan.letters.undo)}. Not sure which: ${anyOf(plan.press)}.`,
    ),
    ...said(`Repeat: ${anyOf(plan.again)}. Pause: ${breaks}. Stop it all: ${anyOf(plan.stop)}.`),
  ];
};

/** The question for which fixture a press was meant. */
export const whichTold = (sight: RackSight, stage: RackStageOf<"which">): RackPageView => {
  const { batch, plan } = sight;
  if (batch.plan.asks === "who-moved") return whoMovedTold(sight, stage);
  const { next, presses, named } = stage;
  const times = presses.length === 1 ? "once" : `${presses.length} times`;
  const names = named.map((index) => safeText(batch.members[index]?.serial ?? "")).join(", ");
  return {
    headline: "which one was it?",
    far: "Which?",
    where: whereOf(batch, next),
    above: [
      ...said(`You pressed ${times} during ${headlineOf(stepOf(batch, next))}.`),
      ...said(names === "" ? "" : `Named: ${names}.`, "strong"),
    ],
    below: [
      ...said("Press its letter, or several letters if several differed.", "strong"),
      ...toAnswer(
        said(
          `ENTER: ${named.length === 0 ? "none of them" : "that is all"}, continue. Stop it all: ${anyOf(plan.stop)}.`,
        ),
      ),
    ],
  };
};

/** One was asked to move at its address: who did? */
const whoMovedTold = (sight: RackSight, { next, named }: RackStageOf<"which">): RackPageView => {
  const { batch, plan } = sight;
  const asked = memberAt(batch, next.members[0] ?? 0);
  const { universe, address } = asked.spot;
  const names = named.map((index) => safeText(memberAt(batch, index).serial)).join(", ");
  return {
    headline: "which one moved?",
    far: "Which?",
    where: safeText(turnOf(batch, next).name),
    above: [
      ...said(
        `Universe ${universe}, address ${address}: by the file ${safeText(asked.serial)}, ${safeText(placeInWords(asked.place))}.`,
      ),
      ...said(names === "" ? "" : `Moved: ${names}.`, "strong"),
    ],
    below: [
      ...said("Press the letter of the one that moved, or several letters if several moved.", "strong"),
      ...toAnswer(said(`ENTER: ${named.length === 0 ? "nothing moved" : "that is all"}.`)),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};

/** The page while a group makes the slow movement that comes before anything at full speed. */
export const slowTold = ({ batch, plan }: RackSight, { next }: RackStageOf<"slow-start">): RackPageView => ({
  headline: "slow movement first",
  far: "Slow",
  where: whereOf(batch, next),
  above: [
    ...said(
      `${capital(safeText(turnOf(batch, next).name))}: pan and tilt move a little, slowly and dark, before anything moves at full speed.`,
    ),
    ...said("Stand clear.", "strong"),
  ],
  below: said(`Stop it all: ${anyOf(plan.stop)}. Area not clear: ${keyWords(plan.letters.undo)}.`),
});
