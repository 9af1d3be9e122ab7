import { type Batch, memberAt, type RackStageOf } from "../run/batch/batch.ts";
import { guardedBy } from "../run/batch/guarded.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import { atHand } from "./by-hand-keys.ts";
import { choicesAt } from "./choices.ts";
import { fixtureAt } from "./fixture-keys.ts";
import { actionOf, isKey, isOwn, type KeyPlan } from "./key-plan.ts";
import {
  aboutSilence,
  aboutSilenceOfAll,
  atOffers,
  atPlace,
  atQuestion,
  atSetting,
  atSpot,
  atWhatMoved,
} from "./question-keys.ts";
import {
  type Desk,
  type Drawn,
  deskFor,
  HERE,
  type Keyed,
  stageIn,
  type TogetherStage,
  type TypedEntry,
} from "./sight.ts";
import { endsFigure, typing } from "./typing.ts";

/**
 * What one key does, as an answer to what was drawn, before one fixture or many. It never asks what is going on now: an
 * answer that comes too late does nothing.
 */
export const pressed = (before: Desk, key: string, drawn: Drawn, plan: KeyPlan): Keyed => {
  const desk = deskFor(before, drawn.question);
  if (key === "ctrl-c") return [desk, [{ kind: "signal", name: "SIGINT" }]];
  if (desk.entry && endsFigure(desk.entry, key, plan)) return figureThenAnswer(desk, desk.entry, key, drawn, plan);
  if (desk.entry) return typing(desk, desk.entry, key);
  // There the stop button too means that it shall stand still, and that is done.
  if (isKey(plan.stop, key) && stageIn(drawn.batch).kind !== "at-spot") return [desk, [{ kind: "stop" }]];
  return byButtons(desk, key, drawn, plan) ?? atStage(desk, key, drawn, plan);
};

const figureThenAnswer = (desk: Desk, entry: TypedEntry, key: string, drawn: Drawn, plan: KeyPlan): Keyed => {
  const [kept, value] = typing(desk, entry, "enter");
  const [after, answer] = atStage(kept, key, drawn, plan);
  return [after, [...value, ...answer]];
};

/** At a question the press button goes from choice to choice, and the again button takes the one that is marked. */
const byButtons = (desk: Desk, key: string, drawn: Drawn, plan: KeyPlan): Keyed | undefined => {
  const choices = choicesAt(drawn.batch, desk, plan);
  if (choices.length === 0) return undefined;
  if (isKey(plan.press, key))
    return [{ ...desk, mark: desk.mark === undefined ? 0 : (desk.mark + 1) % choices.length }, [HERE]];
  const marked = desk.mark === undefined ? undefined : choices[desk.mark];
  if (!marked || !isKey(plan.again, key)) return undefined;
  return marked.keys.reduce<Keyed>(
    ([before, inputs], one) => {
      const [after, more] = atStage(before, one, drawn, plan);
      return [after, [...inputs, ...more]];
    },
    [{ ...desk, mark: undefined }, []],
  );
};

const atStage = (desk: Desk, key: string, { batch }: Drawn, plan: KeyPlan): Keyed => {
  const { stage } = batch;
  return stage.kind === "alone"
    ? ofOne(desk, key, memberAt(batch, stage.member).session, plan)
    : ofSeveral(desk, key, batch, stage, plan);
};

/** A fixture that is looked at alone is asked about in detail. */
const ofOne = (desk: Desk, key: string, session: Session, plan: KeyPlan): Keyed => {
  const { stage } = session;
  switch (stage.kind) {
    case "moving":
      return whileMoving(desk, key, stage, plan);
    case "asking":
      return atQuestion(desk, key, session, stage, plan);
    case "confirming":
      return aboutSilence(desk, key, stage, plan);
    case "what-moved":
      return atWhatMoved(desk, key, session, plan);
    case "setting-found":
      return atSetting(desk, key, plan);
    case "placed":
      return atPlace(desk, key, plan);
    case "at-spot":
      return atSpot(desk, key, plan);
    case "by-hand":
      return atHand(desk, key, stage.task, plan);
    case "what-next":
      return atOffers(desk, key, stage);
    case "other-interface":
      return isKey(plan.again, key)
        ? [desk, [{ kind: "again", answers: answersOf(desk) }]]
        : onPage(desk, key, stage, plan);
    default:
      return onPage(desk, key, stage, plan);
  }
};

/** Several share one pair of eyes: letters name fixtures, and nothing is asked in detail. */
const ofSeveral = (desk: Desk, key: string, batch: Batch, stage: TogetherStage, plan: KeyPlan): Keyed => {
  const answers = answersOf(desk);
  const member = fixtureAt(batch, desk, key, plan);
  if (key === "tab") return [{ ...desk, page: desk.page + 1, picked: undefined }, [HERE]];
  switch (stage.kind) {
    case "moving":
      return whileTogether(desk, key, member, plan);
    case "which":
      if (member !== undefined) return [desk, [{ kind: "differs", answers, member }]];
      return key === "enter" ? [desk, [{ kind: "confirm", answers }]] : onPage(desk, key, stage, plan);
    case "confirming":
      return aboutSilenceOfAll(desk, key, member, plan);
    case "paused":
      return inBreak(desk, key, member, stage, plan);
    case "other-interface":
    case "line-lost":
      return isKey(plan.again, key) ? [desk, [{ kind: "decline", answers }]] : onPage(desk, key, stage, plan);
    case "own-address":
      return ownAddress(desk, key, stage, plan);
    default:
      return onPage(desk, key, stage, plan);
  }
};

const answersOf = ({ question }: Desk): string => question ?? "";

/** The three buttons; what else is asked for waits until the step is over, and every key says that somebody is there. */
const whileMoving = (desk: Desk, key: string, { step }: StageOf<"moving">, plan: KeyPlan): Keyed => {
  const answers = answersOf(desk);
  if (step.routine === "soak" && /^[1-9]$/.test(key))
    return [desk, [{ kind: "choose", answers, offer: Number(key) - 1 }]];
  const action = actionOf(plan, key);
  if (action === "undo") return [desk, [{ kind: "undo", answers }]];
  if (action !== "away" && action !== "freeze") return byPressOrAgain(desk, key, plan);
  return [{ ...desk, wanted: desk.wanted === action ? undefined : action }, [HERE]];
};

/** The letter of a fixture says that it differs; a rack's own break is asked for at once, and begins after the step. */
const whileTogether = (desk: Desk, key: string, member: number | undefined, plan: KeyPlan): Keyed => {
  const answers = answersOf(desk);
  const action = actionOf(plan, key);
  if (action === "away") return [desk, [{ kind: "away", answers }]];
  if (action === "undo") return [desk, [{ kind: "undo-differs", answers }]];
  return member === undefined ? byPressOrAgain(desk, key, plan) : [desk, [{ kind: "differs", answers, member }]];
};

const byPressOrAgain = (desk: Desk, key: string, plan: KeyPlan): Keyed => {
  const answers = answersOf(desk);
  if (isKey(plan.press, key)) return [desk, [{ kind: "press", answers }]];
  return [desk, [isKey(plan.again, key) ? { kind: "again", answers } : HERE]];
};

/** A page that takes the letter of its own, initials, and where nothing has moved yet a step back. */
const onPage = (desk: Desk, key: string, stage: ReturnType<typeof stageIn>, plan: KeyPlan): Keyed => {
  const answers = answersOf(desk);
  if (isOwn(plan, guardedBy(stage), key))
    return [desk, [{ kind: stage.kind === "paused" ? "go-on" : "confirm", answers }]];
  const action = actionOf(plan, key);
  if (action === "undo" && STEPS_BACK.includes(stage.kind)) return [desk, [{ kind: "undo", answers }]];
  if (action !== "person" || NOBODY_ASKED.includes(stage.kind)) return [desk, [HERE]];
  return [{ ...desk, entry: { what: "person", text: "" } }, [HERE]];
};

const STEPS_BACK: readonly string[] = ["holding", "slow-start", "stirring"];
const NOBODY_ASKED: readonly string[] = ["slow-start", "stirring", "opening", "diagnosing", "finished"];

/** A fixture is picked by its key; then it is withdrawn, or another stands in its place. */
const inBreak = (
  desk: Desk,
  key: string,
  member: number | undefined,
  stage: RackStageOf<"paused">,
  plan: KeyPlan,
): Keyed => {
  const { picked } = desk;
  if (picked === undefined)
    return member === undefined ? onPage(desk, key, stage, plan) : [{ ...desk, picked: member }, [HERE]];
  if (isKey(plan.again, key)) return [{ ...desk, entry: { what: "serial", text: "" } }, [HERE]];
  const out = { kind: "withdraw", answers: answersOf(desk), member: picked, why: "" } as const;
  return [{ ...desk, picked: undefined }, [isKey(plan.press, key) ? out : HERE]];
};

const ownAddress = (desk: Desk, key: string, { free }: RackStageOf<"own-address">, plan: KeyPlan): Keyed => {
  const answers = answersOf(desk);
  if (isKey(plan.again, key)) return [desk, [{ kind: "told-apart", answers, how: "others-unplugged" }]];
  const yes = free !== undefined && isOwn(plan, "own-address", key);
  return [desk, [yes ? { kind: "told-apart", answers, how: "own-address" } : HERE]];
};
