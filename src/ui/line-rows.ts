import { safeText } from "../domain/problem/shown-text.ts";
import type { RackStageOf } from "../run/batch/batch.ts";
import { type Next, stepAt, stepInWords } from "../run/session/job.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import { personRows } from "./foot-rows.ts";
import { anyOf, type KeyPlan, keyWords } from "./key-plan.ts";
import type { AloneSight, Sight } from "./sight.ts";
import { type AroundList, BLANK, type Line, said, toAnswer } from "./view.ts";

/** The page of a lost DMX line, and of one that is back. */
export const lossRows = (sight: AloneSight, stage: StageOf<"line-lost">): readonly Line[] => {
  const { session, plan } = sight;
  const { back, next, asked } = stage;
  return [
    ...lossWords(stage),
    BLANK,
    ...(back ? backRows(session, asked ? undefined : next) : LOST_ROWS),
    BLANK,
    ...backAnswer(sight, stage),
    ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ...personRows(sight),
  ];
};

type LossStage = Pick<StageOf<"line-lost">, "words" | "back">;

const lossWords = ({ words, back }: LossStage): readonly Line[] =>
  back ? said(`Why it was lost: ${safeText(words)}.`) : said(`! ${safeText(words)}`, "alert");

const backAnswer = ({ plan }: Sight, { back }: LossStage): readonly Line[] =>
  toAnswer(said(back ? `${keyWords(plan.own["line-back"])}: I am here, the area is clear, continue.` : "", "strong"));

const LOST_ROWS: readonly Line[] = said(
  "No data reaches the fixture now. It may hold its last state, lit or dark. Check plug, cable and interface. " +
    "Limber tries the line again every second.",
);

const HELD = "The line is back. The fixture is dark and holds its last commanded position.";

/** Where nothing had moved a question was open. */
const backRows = ({ job }: Session, next: Next | undefined): readonly Line[] =>
  said(
    next === undefined
      ? `${HELD} The open question comes again. A slow movement comes before anything else moves.`
      : `${HELD} A slow movement comes first. Then ${stepInWords(stepAt(job, next.index))} continues from the same place.`,
  );

/** The page of an interface that may be another than before: no frame was sent to it yet. */
export const strangerRows = (sight: AloneSight, { words }: StageOf<"other-interface">): readonly Line[] => {
  const { plan } = sight;
  return [
    ...said(`! ${safeText(words)}.`, "alert"),
    BLANK,
    ...strangerFacts("the fixture of this run"),
    BLANK,
    ...toAnswer(said(strangerAnswer(plan), "strong")),
    ...said(`Wrong one: plug in the right one, then ${anyOf(plan.again)}. Stop it all: ${anyOf(plan.stop)}.`),
    ...personRows(sight),
  ];
};

/** What to look at before another interface is used. `who` is what else would move: one fixture, or those of a rack. */
const strangerFacts = (who: string): readonly Line[] => [
  ...said("Nothing is sent to this interface until you agree."),
  ...said(`Look which cable hangs on it: whatever listens there will move instead of ${who}.`),
];

/** How to agree to another interface, in words. */
const strangerAnswer = (plan: KeyPlan): string =>
  `${keyWords(plan.own["other-interface"])}: this is the right interface, use it.`;

/** The page of one lost DMX line of several, and of one that is back: the others can go on without it. */
export const lossOfAll = (sight: Sight, stage: RackStageOf<"line-lost">): AroundList => {
  const { batch, plan } = sight;
  const { universe, back } = stage;
  const cutOff = batch.members.filter(({ spot, state }) => spot.universe === universe && state === "here").length;
  return {
    above: [
      ...lossWords(stage),
      ...said(
        back
          ? "A slow movement comes first. Then the step starts again."
          : `No data reaches ${cutOff} fixtures now. They may hold their last state, lit or dark. Limber tries the line again every second.`,
      ),
    ],
    below: [
      ...backAnswer(sight, stage),
      ...said(`${anyOf(plan.again)}: continue without them. Their current step counts as not watched.`),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};

/** The page of an interface that may be another than before, on one of several lines: the others can go on without it. */
export const strangerOfAll = (sight: Sight, { words }: RackStageOf<"other-interface">): AroundList => {
  const { plan } = sight;
  return {
    above: [...said(`! ${safeText(words)}.`, "alert"), ...strangerFacts("the fixtures of this rack")],
    below: [
      ...toAnswer(said(strangerAnswer(plan), "strong")),
      ...said(`${anyOf(plan.again)}: go on without this universe.`),
      ...said(`Stop it all: ${anyOf(plan.stop)}.`),
    ],
  };
};
