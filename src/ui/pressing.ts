import { guardedBy } from "../run/batch/guarded.ts";
import type { WatcherInput } from "../run/machine/input.ts";
import type { Stage, StageOf } from "../run/session/session.ts";
import { atQuestion } from "./asking.ts";
import { atHand } from "./by-hand-keys.ts";
import { choicesAt } from "./choices.ts";
import { type Desk, type Drawn, deskFor, type Keyed, type TypedEntry } from "./desk.ts";
import { atOffers, atSetting, atWhatMoved } from "./finding-keys.ts";
import { actionOf, isKey, isOwn, type KeyPlan } from "./key-plan.ts";
import { typing } from "./typing.ts";
import { silentOn } from "./waiting-rows.ts";

const HERE: WatcherInput = { kind: "here" };

/**
 * What one key does, as an answer to what was drawn. It never asks what is going on now: an
 * answer that comes too late does nothing.
 */
export const pressed = (before: Desk, key: string, drawn: Drawn, plan: KeyPlan): Keyed => {
  const desk = deskFor(before, drawn.question);
  if (key === "ctrl-c") return [desk, [{ kind: "signal", name: "SIGINT" }]];
  if (desk.entry && endsFigure(desk.entry, key, plan)) return figureThenAnswer(desk, desk.entry, key, drawn, plan);
  if (desk.entry) return typing(desk, desk.entry, key, drawn.question ?? "");
  // There the stop button too means that it shall stand still, and that is done.
  if (isKey(plan.stop, key) && drawn.session.stage.kind !== "at-spot") return [desk, [{ kind: "stop" }]];
  return byButtons(desk, key, drawn, plan) ?? atStage(desk, key, drawn, plan);
};

/** No figure has these letters: the value is kept as it stands, and the letter answers. */
const endsFigure = ({ what }: TypedEntry, key: string, plan: KeyPlan): boolean => {
  const action = actionOf(plan, key);
  return what === "value" && (action === "good" || action === "failed" || action === "absent");
};

const figureThenAnswer = (desk: Desk, entry: TypedEntry, key: string, drawn: Drawn, plan: KeyPlan): Keyed => {
  const [kept, value] = typing(desk, entry, "enter", drawn.question ?? "");
  const [after, answer] = atStage(kept, key, drawn, plan);
  return [after, [...value, ...answer]];
};

/** At a question the press button goes from choice to choice, and the again button takes the one that is marked. */
const byButtons = (desk: Desk, key: string, drawn: Drawn, plan: KeyPlan): Keyed | undefined => {
  const choices = choicesAt(drawn.session, desk, plan);
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

const atStage = (desk: Desk, key: string, { session }: Drawn, plan: KeyPlan): Keyed => {
  const { stage } = session;
  switch (stage.kind) {
    case "moving":
      return whileMoving(desk, key, stage, plan);
    case "asking":
      return atQuestion(desk, key, session, stage, plan);
    case "holding":
    case "paused":
    case "line-lost":
      return guardedOrPerson(desk, key, stage, plan);
    case "other-interface":
      return isKey(plan.again, key)
        ? [desk, [{ kind: "again", answers: desk.question ?? "" }]]
        : guardedOrPerson(desk, key, stage, plan);
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
    case "slow-start":
    case "stirring":
      return [desk, [actionOf(plan, key) === "undo" ? { kind: "undo", answers: desk.question ?? "" } : HERE]];
    case "opening":
    case "diagnosing":
    case "finished":
      return [desk, [HERE]];
    default:
      return stage satisfies never;
  }
};

/** The three buttons; what else is asked for waits until the step is over, and every key says that somebody is there. */
const whileMoving = (desk: Desk, key: string, { step }: StageOf<"moving">, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (step.routine === "soak" && /^[1-9]$/.test(key))
    return [desk, [{ kind: "choose", answers, offer: Number(key) - 1 }]];
  if (isKey(plan.press, key)) return [desk, [{ kind: "press", answers }]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "again", answers }]];
  const action = actionOf(plan, key);
  if (action === "undo") return [desk, [{ kind: "undo", answers }]];
  if (action !== "away" && action !== "freeze") return [desk, [HERE]];
  return [{ ...desk, wanted: desk.wanted === action ? undefined : action }, [HERE]];
};

/** A page of a letter of its own. */
const guardedOrPerson = (desk: Desk, key: string, stage: Stage, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (isOwn(plan, guardedBy(stage), key))
    return [desk, [{ kind: stage.kind === "paused" ? "go-on" : "confirm", answers }]];
  const action = actionOf(plan, key);
  if (action === "undo" && stage.kind === "holding") return [desk, [{ kind: "undo", answers }]];
  if (action !== "person") return [desk, [HERE]];
  return [{ ...desk, entry: { what: "person", text: "" } }, [HERE]];
};

const aboutSilence = (desk: Desk, key: string, { indexes }: StageOf<"confirming">, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (/^[1-9]$/.test(key)) return [marking(desk, silentOn(desk, indexes)[Number(key) - 1]), [HERE]];
  if (key === "0") return [{ ...desk, page: desk.page + 1 }, [HERE]];
  if (key === "enter")
    return [
      desk,
      [desk.wrong.length > 0 ? { kind: "all-but", answers, wrong: desk.wrong } : { kind: "confirm", answers }],
    ];
  const action = actionOf(plan, key);
  if (action === "absent") return [desk, [{ kind: "decline", answers }]];
  if (action === "undo" || action === "away") return [desk, [{ kind: action, answers }]];
  return [desk, [HERE]];
};

/** The same digit again takes the mark away. */
const marking = (desk: Desk, place: number | undefined): Desk => {
  if (place === undefined) return desk;
  const others = desk.wrong.filter((one) => one !== place);
  return {
    ...desk,
    wrong: others.length < desk.wrong.length ? others : [...desk.wrong, place].toSorted((a, b) => a - b),
  };
};

/** A key at where it happened: the digit of a test that would tell more, once more, or on with the run. */
const atPlace = (desk: Desk, key: string, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (key === "enter") return [desk, [{ kind: "confirm", answers }]];
  if (/^[1-9]$/.test(key)) return [desk, [{ kind: "choose", answers, offer: Number(key) - 1 }]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "again", answers }]];
  const action = actionOf(plan, key);
  if (action === "return" || action === "undo" || action === "slower" || action === "away")
    return [desk, [{ kind: action, answers }]];
  return [desk, [{ kind: "here" }]];
};

/** A key while it works at the fault position: arrows nudge it and set its pace, any of the three buttons ends it. */
const atSpot = (desk: Desk, key: string, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (key === "left") return [desk, [{ kind: "nudge", answers, towards: "low" }]];
  if (key === "right") return [desk, [{ kind: "nudge", answers, towards: "high" }]];
  if (key === "up") return [desk, [{ kind: "faster", answers }]];
  if (key === "down") return [desk, [{ kind: "slower", answers }]];
  const ends = key === "enter" || [plan.press, plan.again, plan.stop].some((keys) => isKey(keys, key));
  return [desk, [ends ? { kind: "confirm", answers } : { kind: "here" }]];
};
