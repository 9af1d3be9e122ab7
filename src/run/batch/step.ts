import type { PersonAnswer, Stamped } from "../machine/input.ts";
import { andThen, type Changed, stay, storedUpTo } from "../machine/running.ts";
import { type Reactions, routed, stepped } from "../machine/step.ts";
import { fixtureTold } from "../session/asked.ts";
import { stoppedAt } from "../session/pausing.ts";
import { isItsOwn, toldApart, whileAlone } from "./alone.ts";
import { type Batch, type RackStageOf, rackQuestionOf, type Spot } from "./batch.ts";
import { endRack, forEach, type RackChange, type RackEffect, write } from "./change.ts";
import { confirmForAll, lookAtAlone, onward } from "./flow.ts";
import { answerStranger, beginRack, endUniverseLoss, rackStrangerMet, universeLost, universeOpen } from "./line.ts";
import { inBreak, takeBreak } from "./pausing.ts";
import { answerPass } from "./silence.ts";
import { afterPlaying, differedOnItsWay, differedTooLate, holdAll, playTogether, whileMoving } from "./together.ts";
import { answerWhich, leavingUnnamed, pressAtQuestion, pressedJustBefore } from "./which.ts";

/**
 * All behaviour of a run, of one fixture or of many: what it becomes when something happens, and what it then wants of the
 * world. What concerns a fixture that is looked at alone goes to that fixture's own session; one fixture is a rack of one that
 * is always looked at alone.
 */
export const stepRack = (batch: Batch, input: Stamped): Changed<Batch, RackEffect> =>
  stepped(TOGETHER, batch, input, (b) =>
    settled(
      b.stage.kind === "alone" && isItsOwn(b, b.stage, input)
        ? whileAlone(b, b.stage, input)
        : routed(TOGETHER, b, input),
    ),
  );

/** Goes on to whatever is due, for as long as a change asks for it. */
const settled = ([batch, effects]: RackChange): Changed<Batch, RackEffect> => {
  const wanted = effects.filter((effect) => effect.kind !== "go-on");
  return wanted.length === effects.length ? [batch, wanted] : andThen([batch, wanted], (b) => settled(onward(b)));
};

/** What an effect tells a fixture: a step where it listens, or to hold; whoever has no part in what plays holds too. */
const toldBy = (effect: RackChange[1][number], { universe, address }: Spot) => {
  if (effect.kind !== "play") return effect.kind === "go-dark" ? "dark" : undefined;
  const part = effect.parts.find(({ spots }) =>
    spots.some((spot) => spot.universe === universe && spot.address === address),
  );
  return part ? part.step : "dark";
};

/** What is a rack's own in the way of its inputs, while its fixtures are watched together. */
const TOGETHER: Reactions<Batch, RackChange[1][number]> = {
  unanswered: ({ members }) => members.flatMap(({ session }) => session.group),
  withCommanded: (batch, change) => ({
    ...batch,
    members: batch.members.map((member) => {
      const commanded = change(member.session.commanded, (effect) => toldBy(effect, member.spot));
      return commanded === member.session.commanded ? member : { ...member, session: { ...member.session, commanded } };
    }),
  }),
  questionOf: rackQuestionOf,
  begin: beginRack,
  write,
  stored: (batch, { run, count }) => kept(batch, run, count),
  fixtureTold: (batch, input) => {
    const index = batch.members.findIndex(({ run }) => run === input.run);
    return index < 0 ? stay(batch) : forEach(batch, [index], (session) => fixtureTold(session, input));
  },
  interfaceOn: ({ record }, universe) => record.interfaces.get(universe),
  lineLost: universeLost,
  lineOpen: universeOpen,
  strangerMet: rackStrangerMet,
  halt: takeBreak,
  byHand: (batch) => batch,
  leaving: leavingUnnamed,
  stoppedAt: (batch, frame, by) =>
    forEach(batch, batch.stage.kind === "moving" ? batch.stage.next.members : [], (session) =>
      stoppedAt(session, frame, by),
    ),
  end: endRack,
  played: (batch, input) => played(batch, input),
  // Asked for by a fixture alone, which is done with.
  diagnosed: stay,
  signOfLife: (batch) => ({ ...batch, signs: [...batch.signs, batch.now] }),
  answered: (batch, input) => atStage(batch, input),
  answeredLate: (batch, input) => answeredLate(batch, input),
  onItsWay: (batch, input, way) => onItsWay(batch, input, way),
};

/** What is on disk, of the rack's own run or of a fixture's. */
const kept = (batch: Batch, run: string, count: number): Batch => {
  if (run === batch.plan.run) return storedUpTo(batch, count);
  const members = batch.members.map((member) =>
    member.run === run ? { ...member, session: storedUpTo(member.session, count) } : member,
  );
  return { ...batch, members };
};

const played = (batch: Batch, input: Extract<Stamped, { kind: "played" }>): RackChange => {
  const { stage } = batch;
  if (stage.kind === "slow-start") return playTogether({ ...batch, slowShown: true }, stage.next);
  return stage.kind === "moving" ? afterPlaying(batch, stage, input) : stay(batch);
};

const answeredLate = (batch: Batch, input: PersonAnswer): RackChange => {
  if (input.kind === "differs") return differedTooLate(batch, input);
  const { stage } = batch;
  return input.kind === "press" && stage.kind === "moving" ? whileMoving(batch, stage, input) : stay(batch);
};

/** What came over the air counts for the step that was out when it was pressed. */
const onItsWay = (
  batch: Batch,
  input: Extract<Stamped, { kind: "press" | "differs" }>,
  way: NonNullable<Stamped["way"]>,
): RackChange => {
  const { stage } = batch;
  if (stage.kind === "alone") return stay(batch);
  if (stage.kind === "moving" && way.key === rackQuestionOf(batch)) return whileMoving(batch, stage, input);
  if (input.kind === "differs") return differedOnItsWay(batch, input, way);
  return stage.kind === "which" ? pressedJustBefore(batch, stage, input, way) : stay(batch);
};

const atStage = (batch: Batch, input: PersonAnswer): RackChange => {
  const { stage } = batch;
  switch (stage.kind) {
    case "moving":
      return whileMoving(batch, stage, input);
    case "which":
      return input.kind === "press" ? pressAtQuestion(batch) : answerWhich(batch, stage, input);
    case "holding":
      return answerHold(batch, stage, input);
    case "confirming":
      return input.kind === "press" ? pressAtQuestion(batch) : answerPass(batch, input);
    case "paused":
      return inBreak(batch, input);
    case "line-lost":
      return endUniverseLoss(batch, stage, input);
    case "other-interface":
      return answerStranger(batch, stage, input);
    case "between":
      return input.kind === "confirm" ? toSecondPass(batch, stage) : stay(batch);
    case "own-address":
      return toldApart(batch, stage, input);
    case "slow-start":
      return input.kind === "undo" ? holdAll(batch, stage.next) : stay(batch);
    case "alone":
    case "opening":
    case "finished":
      return stay(batch);
    default:
      return stage satisfies never;
  }
};

/** Before the mains goes on the answer about the area can still be undone. */
const answerHold = (batch: Batch, { point, next }: RackStageOf<"holding">, input: PersonAnswer): RackChange => {
  if (input.kind === "confirm") return confirmForAll(batch, point, next);
  return input.kind === "undo" && point === "mains-on" ? holdAll(batch, next) : stay(batch);
};

const toSecondPass = (batch: Batch, { odd }: RackStageOf<"between">): RackChange =>
  andThen(write(batch, { kind: "rack-course", what: "second-pass", detail: String(odd.length) }), (b) =>
    lookAtAlone(b, odd[0] ?? 0),
  );
