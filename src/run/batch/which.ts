import type { Stamped } from "../machine/input.ts";
import { andThen, stay } from "../machine/running.ts";
import { attemptAt, type Change } from "../session/change.ts";
import { stepAt } from "../session/job.ts";
import { judgeStep } from "../session/judging.ts";
import { keepPress, LATE_PRESS_S } from "../session/playing.ts";
import type { Session } from "../session/session.ts";
import { type Batch, memberAt, type Pressed, type RackStageOf } from "./batch.ts";
import { forEach, onToNext, type RackChange, write } from "./change.ts";
import { takeBreak } from "./pausing.ts";

/**
 * Keeps that one of several was pressed for, until it is said which; in the first moments, with the beams
 * still shut, it belongs to the step before.
 */
export const pressedAt = (batch: Batch, { next }: RackStageOf<"moving">, { frame, after, way }: Stamped): Pressed => {
  const { session } = memberAt(batch, next.members[0] ?? 0);
  const last = session.group.at(-1);
  if (!last || frame >= stepAt(session.job, next.index).leadIn) return { index: next.index, frame, after, way };
  return {
    index: last.index,
    frame: stepAt(session.job, last.index).frames + frame,
    after: batch.now - (way?.ago ?? 0) - last.start,
    way,
  };
};

/**
 * Takes a press for one of several that was on its way while the step ended: it is one of those that are asked about now.
 */
export const pressedJustBefore = (
  batch: Batch,
  stage: RackStageOf<"which">,
  { frame, after }: Stamped,
  way: NonNullable<Stamped["way"]>,
): RackChange => {
  const { turn, index } = stage.next;
  if (way.key !== `${turn}.${index}.${stage.attempt}` || stage.named.length > 0) return stay(batch);
  const press: Pressed = { index, frame, after, way };
  return stay({ ...batch, stage: { ...stage, presses: [...stage.presses, press] } });
};

/**
 * Takes a press just after the last frame as meant for what had moved: it is asked about
 * with the others, or opens the question.
 */
export const pressAtQuestion = (batch: Batch): RackChange => {
  const last = lastPlayed(batch);
  if (batch.plan.asks !== "who-differs" || !last || batch.now - last.end > LATE_PRESS_S) return stay(batch);
  const { next, attempt, start } = last;
  const { job } = memberAt(batch, next.members[0] ?? 0).session;
  const pressed: Pressed = { index: next.index, frame: stepAt(job, next.index).frames, after: batch.now - start };
  const { stage } = batch;
  const which: RackStageOf<"which"> =
    stage.kind === "which"
      ? { ...stage, presses: [...stage.presses, pressed] }
      : { kind: "which", next, attempt, presses: [pressed], named: [], wanted: undefined };
  return stay({ ...batch, stage: which });
};

/** The step that came to its end last, and who played it. */
const lastPlayed = ({ members, plan }: Batch) => {
  const lasts = members.flatMap(({ session }, index) => {
    const played = session.group.at(-1);
    return played ? [{ index, played, session }] : [];
  });
  const latest = lasts.reduce<(typeof lasts)[number] | undefined>(
    (best, one) => (best && best.played.end >= one.played.end ? best : one),
    undefined,
  );
  if (!latest) return undefined;
  const { start, end, index } = latest.played;
  const together = lasts.filter(({ played }) => played.end === end && played.index === index).map((one) => one.index);
  const turn = plan.turns.findIndex((one) => one.members.includes(latest.index));
  const attempt = latest.session.view.steps[index]?.attempt ?? 1;
  return { next: { turn, index, members: together }, attempt, start, end };
};

/**
 * Takes which fixtures were meant, one after the other by their keys; "go on" when all are
 * named, or none of them was it after all.
 */
export const answerWhich = (batch: Batch, stage: RackStageOf<"which">, input: Stamped): RackChange => {
  if (batch.plan.asks === "who-moved") return answerWhoMoved(batch, stage, input);
  if (input.kind === "confirm") return stage.wanted ? takeBreak(batch) : onToNext(batch);
  if (input.kind !== "differs") return stay(batch);
  const { member } = input;
  if (!stage.next.members.includes(member) || stage.named.includes(member)) return stay(batch);
  const named: Batch = { ...batch, stage: { ...stage, named: [...stage.named, member] } };
  return forEach(named, [member], (session) =>
    stage.presses.reduce<Change>((change, one) => andThen(change, (s) => claim(s, one)), stay(session)),
  );
};

const claim = (session: Session, press: Pressed): Change =>
  keepPress(session, {
    ...press,
    step: stepAt(session.job, press.index).id,
    attempt: attemptAt(session, press.index),
  });

/**
 * Takes who really moved when one fixture was asked to: a key for each, then "that is all"; none at all is an answer too.
 */
const answerWhoMoved = (batch: Batch, stage: RackStageOf<"which">, input: Stamped): RackChange => {
  if (input.kind === "confirm") return andThen(kept(batch, stage), onToNext);
  if (input.kind !== "differs") return stay(batch);
  const { member } = input;
  const others = stage.named.filter((one) => one !== member);
  const named = others.length < stage.named.length ? others : [...stage.named, member];
  return stay({ ...batch, stage: { ...stage, named } });
};

/** Keeps in the rack's run who moved, and in the fixture's own whether it did what it was commanded to. */
const kept = (batch: Batch, { next, named }: RackStageOf<"which">): RackChange => {
  const [asked = 0] = next.members;
  const { serial, run } = memberAt(batch, asked);
  const moved = named.map((index) => memberAt(batch, index).serial);
  const itself = named.includes(asked) && named.length === 1;
  const symptom = named.length === 0 ? "nothing-moves" : "wrong-thing";
  return andThen(write(batch, { kind: "who-moved", serial, run, moved }), (b) =>
    forEach(b, [asked], (session) => {
      const [played] = session.group;
      if (!played) return stay(session);
      const judged = judgeStep(session, played, itself ? "pass" : "fail", itself ? [] : [{ symptom }], "", "attended");
      return [{ ...judged[0], group: [] }, judged[1]];
    }),
  );
};

/** Somebody pressed for one of these, and it was never said which. */
export interface UnnamedPress {
  readonly serials: readonly string[];
  readonly presses: number;
}

/**
 * The presses that were made for one of several fixtures and not yet said for which: once all of them are answered for
 * in that step, it was looked at again.
 */
export const unnamedPresses = ({ record, members }: Batch): readonly UnnamedPress[] =>
  record.unnamed.filter(({ step, serials }) =>
    members.some(
      ({ serial, session }) =>
        serials.includes(serial) && session.view.steps.some(({ id, judged }) => id === step && judged === undefined),
    ),
  );

/** Goes on before it was said which fixture a press was for: the press is kept, so that it is not taken for nothing. */
export const leavingUnnamed = (batch: Batch, then: (batch: Batch) => RackChange): RackChange => {
  const { stage } = batch;
  const presses = openPresses(batch);
  if (presses === 0 || !("next" in stage)) return then(batch);
  const { members, index } = stage.next;
  const serials = members.map((member) => memberAt(batch, member).serial);
  const step = stepAt(memberAt(batch, members[0] ?? 0).session.job, index).id;
  return andThen(write(batch, { kind: "press-unnamed", step, serials, presses }), then);
};

const openPresses = ({ stage, plan }: Batch): number => {
  if (plan.asks !== "who-differs") return 0;
  if (stage.kind === "moving") return stage.unclaimed.length;
  return stage.kind === "which" && stage.named.length === 0 ? stage.presses.length : 0;
};
