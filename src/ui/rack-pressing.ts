import type { RackStage } from "../run/batch/batch.ts";
import { guardedBy } from "../run/batch/guarded.ts";
import type { RackInput } from "../run/machine/input.ts";
import type { RackDesk, RackEntry } from "./desk.ts";
import { actionOf, isKey, isOwn, type KeyPlan } from "./key-plan.ts";
import { fixtureKeys, rackChoicesAt } from "./rack-keys.ts";
import type { RackDrawn } from "./sight.ts";
import { endsLine, typedBy } from "./typing.ts";

type RackKeyed = readonly [RackDesk, readonly RackInput[]];

const HERE: RackInput = { kind: "here" };

/** What one key does before a rack, as an answer to what was drawn. */
export const rackPressed = (desk: RackDesk, key: string, drawn: RackDrawn, plan: KeyPlan): RackKeyed => {
  if (key === "ctrl-c") return [desk, [{ kind: "signal", name: "SIGINT" }]];
  if (desk.entry) return typing(desk, desk.entry, key, drawn.question ?? "");
  if (isKey(plan.stop, key)) return [desk, [{ kind: "stop" }]];
  if (key === "tab") return [{ ...desk, leafed: desk.leafed + 1, picked: undefined }, [HERE]];
  return byButtons(desk, key, drawn, plan) ?? atStage(desk, key, drawn, plan);
};

/** What the buttons do, as for a single fixture: the press button goes from answer to answer, the again button takes the one that is marked. */
const byButtons = (desk: RackDesk, key: string, drawn: RackDrawn, plan: KeyPlan): RackKeyed | undefined => {
  const choices = rackChoicesAt(drawn.batch, desk, plan);
  if (choices.length === 0) return undefined;
  if (isKey(plan.press, key))
    return [{ ...desk, mark: desk.mark === undefined ? 0 : (desk.mark + 1) % choices.length }, [HERE]];
  const marked = desk.mark === undefined ? undefined : choices[desk.mark];
  const [one] = marked?.keys ?? [];
  return one === undefined || !isKey(plan.again, key)
    ? undefined
    : atStage({ ...desk, mark: undefined }, one, drawn, plan);
};

const atStage = (desk: RackDesk, key: string, drawn: RackDrawn, plan: KeyPlan): RackKeyed => {
  const { stage } = drawn.batch;
  const answers = drawn.question ?? "";
  switch (stage.kind) {
    case "moving":
      return whileMoving(desk, key, drawn, plan);
    case "slow-start":
    case "holding":
      return actionOf(plan, key) === "undo" ? [desk, [{ kind: "undo", answers }]] : yesOrPerson(desk, key, drawn, plan);
    case "which":
      return differing(desk, key, drawn, plan) ?? yesOrPerson(desk, key, drawn, plan);
    case "paused":
      return inBreak(desk, key, drawn, plan);
    case "confirming":
      return aboutSilence(desk, key, drawn, plan);
    case "other-interface":
      return isKey(plan.again, key) ? [desk, [{ kind: "decline", answers }]] : yesOrPerson(desk, key, drawn, plan);
    case "line-lost":
      return withoutLine(desk, key, drawn, stage, plan);
    case "own-address":
      return ownAddress(desk, key, stage, answers, plan);
    default:
      return yesOrPerson(desk, key, drawn, plan);
  }
};

const whileMoving = (desk: RackDesk, key: string, drawn: RackDrawn, plan: KeyPlan): RackKeyed => {
  const answers = drawn.question ?? "";
  if (isKey(plan.press, key)) return [desk, [{ kind: "press", answers }]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "again", answers }]];
  if (actionOf(plan, key) === "away") return [desk, [{ kind: "away", answers }]];
  if (actionOf(plan, key) === "undo") return [desk, [{ kind: "undo-differs", answers }]];
  return differing(desk, key, drawn, plan) ?? [desk, [HERE]];
};

/** The key of a fixture. */
const differing = (desk: RackDesk, key: string, drawn: RackDrawn, plan: KeyPlan): RackKeyed | undefined => {
  const member = memberOf(desk, key, drawn, plan);
  return member === undefined ? undefined : [desk, [{ kind: "differs", answers: drawn.question ?? "", member }]];
};

const memberOf = (desk: RackDesk, key: string, { batch }: RackDrawn, plan: KeyPlan): number | undefined =>
  [...fixtureKeys(batch, desk.leafed, plan)].find(([, letter]) => letter === key.toLowerCase())?.[0];

/** Yes by the letter of a guarded page, by ENTER where nothing is guarded. */
const yesOrPerson = (desk: RackDesk, key: string, { batch, question }: RackDrawn, plan: KeyPlan): RackKeyed => {
  const answers = question ?? "";
  const guarded = guardedBy(batch.stage);
  if (guarded ? isOwn(plan, guarded, key) : key === "enter") return [desk, [{ kind: "confirm", answers }]];
  if (actionOf(plan, key) !== "person") return [desk, [HERE]];
  return [{ ...desk, entry: { what: "person", text: "" } }, [HERE]];
};

/** A fixture is picked by its key; then it is withdrawn, or another stands in its place. */
const inBreak = (desk: RackDesk, key: string, drawn: RackDrawn, plan: KeyPlan): RackKeyed => {
  const { picked } = desk;
  const answers = drawn.question ?? "";
  if (picked === undefined) {
    const member = memberOf(desk, key, drawn, plan);
    return member === undefined ? yesOrPerson(desk, key, drawn, plan) : [{ ...desk, picked: member }, [HERE]];
  }
  const open: RackDesk = { ...desk, picked: undefined };
  if (isKey(plan.again, key)) return [{ ...desk, entry: { what: "serial", text: "" } }, [HERE]];
  if (isKey(plan.press, key)) return [open, [{ kind: "withdraw", answers, member: picked, why: "" }]];
  return [open, [HERE]];
};

/** Letters except fixtures from what ENTER says; the again button says that nobody was there. */
const aboutSilence = (desk: RackDesk, key: string, drawn: RackDrawn, plan: KeyPlan): RackKeyed => {
  const answers = drawn.question ?? "";
  const { excepted } = desk;
  if (key === "enter")
    return [
      desk,
      [excepted.length === 0 ? { kind: "confirm", answers } : { kind: "confirm-but", answers, members: excepted }],
    ];
  if (isKey(plan.again, key)) return [desk, [{ kind: "decline", answers }]];
  const member = memberOf(desk, key, drawn, plan);
  if (member === undefined) return [desk, [actionOf(plan, key) === "away" ? { kind: "away", answers } : HERE]];
  const others = excepted.filter((one) => one !== member);
  return [{ ...desk, excepted: others.length < excepted.length ? others : [...excepted, member] }, [HERE]];
};

const withoutLine = (
  desk: RackDesk,
  key: string,
  drawn: RackDrawn,
  { back }: Extract<RackStage, { kind: "line-lost" }>,
  plan: KeyPlan,
): RackKeyed => {
  if (isKey(plan.again, key)) return [desk, [{ kind: "decline", answers: drawn.question ?? "" }]];
  return back ? yesOrPerson(desk, key, drawn, plan) : [desk, [HERE]];
};

const ownAddress = (
  desk: RackDesk,
  key: string,
  { free }: Extract<RackStage, { kind: "own-address" }>,
  answers: string,
  plan: KeyPlan,
): RackKeyed => {
  if (isKey(plan.again, key)) return [desk, [{ kind: "told-apart", answers, how: "others-unplugged" }]];
  const yes = isOwn(plan, "own-address", key);
  return [desk, [yes && free !== undefined ? { kind: "told-apart", answers, how: "own-address" } : HERE]];
};

const MOST = { serial: 40, person: 8 } as const;

/** Enter keeps it, escape drops it, nothing else is a command. */
const typing = (desk: RackDesk, { what, text }: RackEntry, key: string, answers: string): RackKeyed => {
  const done: RackDesk = { ...desk, entry: undefined, picked: undefined };
  if (key === "escape") return [done, [HERE]];
  if (key === "enter") return [done, [kept(what, text.trim(), desk.picked, answers)]];
  const typed = (key === "backspace" ? [...text].slice(0, -1).join("") : text + typedBy(key)).slice(0, MOST[what]);
  if (endsLine(key)) return [done, [kept(what, typed.trim(), desk.picked, answers)]];
  return [{ ...desk, entry: { what, text: typed } }, [HERE]];
};

const kept = (what: RackEntry["what"], text: string, picked: number | undefined, answers: string): RackInput => {
  if (text === "") return HERE;
  if (what === "person") return { kind: "person", initials: text };
  return picked === undefined ? HERE : { kind: "swap", answers, member: picked, serial: text };
};
