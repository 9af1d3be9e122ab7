import type { FunctionId } from "../domain/trade/functions.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import { silentOn } from "./confirming-rows.ts";
import { type Action, actionOf, isKey, isOwn, type KeyPlan } from "./key-plan.ts";
import { type AskingStage, type Desk, HERE, type Keyed } from "./sight.ts";
import { aboutsOf, MOST, pagesOf, type SymptomPage, symptomAt } from "./symptom-pages.ts";

/** The list of symptoms that lies open. */

export interface OpenPage extends SymptomPage {
  readonly number: number;
  readonly pages: number;
}

/** What a key does at the question what was seen in a step. */
export const atQuestion = (desk: Desk, key: string, session: Session, stage: AskingStage, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (/^[0-9]$/.test(key)) return byDigit(desk, Number(key), session, stage);
  if (key === "tab") return [otherFunction(desk, aboutsOf(session.job, stage.index).length), [HERE]];
  if (key === "enter") return [desk, [{ kind: "confirm", answers }]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "again", answers }]];
  return byLetter(desk, actionOf(plan, key), stage, answers);
};

/** A few functions are gone through one by one, many are chosen from a list. */
export const AT_A_TIME = 4;
const otherFunction = (desk: Desk, count: number): Desk => {
  if (count > AT_A_TIME) return { ...desk, choosing: desk.choosing === undefined ? 0 : undefined };
  return { ...desk, about: desk.about + 1, page: 0 };
};

const byDigit = (desk: Desk, digit: number, session: Session, stage: AskingStage): Keyed => {
  if (desk.choosing !== undefined)
    return [chosen(desk, desk.choosing, digit, aboutsOf(session.job, stage.index)), [HERE]];
  if (digit === 0) return [{ ...desk, page: desk.page + 1 }, [HERE]];
  const symptom = symptomAt(askingPage(desk, session, stage), digit);
  return [desk, [symptom ? { kind: "symptom", answers: desk.question ?? "", symptom } : HERE]];
};

const chosen = (desk: Desk, choosing: number, digit: number, abouts: readonly unknown[]): Desk => {
  const pages = Math.ceil(abouts.length / MOST);
  if (digit === 0) return { ...desk, choosing: (choosing + 1) % pages };
  const about = choosing * MOST + digit - 1;
  return about < abouts.length ? { ...desk, about, page: 0, choosing: undefined } : desk;
};

/** The list of symptoms that lies open: of which function, and which of its pages, from 1. */
export const askingPage = (desk: Desk, { job }: Session, { index }: AskingStage): OpenPage => {
  const abouts = aboutsOf(job, index);
  const pages = pagesOf(job, index, abouts[desk.about % abouts.length]);
  const at = desk.page % pages.length;
  return { ...(pages[at] ?? { about: undefined, symptoms: [] }), number: at + 1, pages: pages.length };
};

const byLetter = (desk: Desk, action: Action | undefined, stage: AskingStage, answers: string): Keyed => {
  switch (action) {
    case "note":
      return [{ ...desk, entry: { what: "note", text: stage.note } }, [HERE]];
    case "person":
      return [{ ...desk, entry: { what: "person", text: "" } }, [HERE]];
    case "good":
      return [desk, [{ kind: "judge", answers, result: "pass" }]];
    case "failed":
      return [desk, [{ kind: "judge", answers, result: "fail" }]];
    case "unsure":
      return [desk, [{ kind: "judge", answers, result: "unsure" }]];
    case "undo":
    case "slower":
    case "back":
    case "away":
      return [desk, [{ kind: action, answers }]];
    default:
      return [desk, [HERE]];
  }
};

/** What can have moved when one function was moved a little, nine to a page; one digit each. */
export const movable = ({ job }: Session): readonly (FunctionId | "nothing")[] => [
  "nothing",
  ...[...job.timeline.profile.functions.keys()].filter((id) => id !== "Control1" && id !== "LampControl"),
];

/** What a key does at the question what moved: a digit answers, and there are keys to move it again and to leave. */
export const atWhatMoved = (desk: Desk, key: string, session: Session, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  const all = movable(session);
  if (key === "0") return [{ ...desk, page: (desk.page + 1) % Math.ceil(all.length / MOST) }, [HERE]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "again", answers }]];
  if (actionOf(plan, key) === "absent") return [desk, [{ kind: "decline", answers }]];
  const what = /^[1-9]$/.test(key) ? all[desk.page * MOST + Number(key) - 1] : undefined;
  return [desk, [what === undefined ? HERE : { kind: "moved", answers, what }]];
};

/** What a key does at what was found out about the fixture's settings: try again, or leave it. */
export const atSetting = (desk: Desk, key: string, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (isOwn(plan, "set-right", key)) return [desk, [{ kind: "confirm", answers }]];
  return [desk, [actionOf(plan, key) === "absent" ? { kind: "decline", answers } : HERE]];
};

/** What a key does at the offers: the digit of one that can be driven, or enough. */
export const atOffers = (desk: Desk, key: string, { offers }: StageOf<"what-next">): Keyed => {
  const answers = desk.question ?? "";
  if (key === "enter") return [desk, [{ kind: "confirm", answers }]];
  const offer = /^[1-9]$/.test(key) ? Number(key) - 1 : -1;
  const chosen = offers[offer];
  return [desk, [chosen ? { kind: "choose", answers, offer } : HERE]];
};

/** A key at where it happened: the digit of a test that would tell more, once more, or on with the run. */
export const atPlace = (desk: Desk, key: string, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (key === "enter") return [desk, [{ kind: "confirm", answers }]];
  if (/^[1-9]$/.test(key)) return [desk, [{ kind: "choose", answers, offer: Number(key) - 1 }]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "again", answers }]];
  const action = actionOf(plan, key);
  if (action === "return" || action === "undo" || action === "slower" || action === "away")
    return [desk, [{ kind: action, answers }]];
  return [desk, [HERE]];
};

/** A key while it works at the fault position: arrows nudge it and set its pace, any of the three buttons ends it. */
export const atSpot = (desk: Desk, key: string, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (key === "left") return [desk, [{ kind: "nudge", answers, towards: "low" }]];
  if (key === "right") return [desk, [{ kind: "nudge", answers, towards: "high" }]];
  if (key === "up") return [desk, [{ kind: "faster", answers }]];
  if (key === "down") return [desk, [{ kind: "slower", answers }]];
  const ends = key === "enter" || [plan.press, plan.again, plan.stop].some((keys) => isKey(keys, key));
  return [desk, [ends ? { kind: "confirm", answers } : HERE]];
};

/** What a key does at the question whether silent steps were watched: digits mark steps that were wrong, which ENTER leaves out. */
export const aboutSilence = (desk: Desk, key: string, { indexes }: StageOf<"confirming">, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  const wrong = desk.excepted.toSorted((a, b) => a - b);
  if (/^[1-9]$/.test(key)) return [excepting(desk, silentOn(desk, indexes)[Number(key) - 1]), [HERE]];
  if (key === "0") return [{ ...desk, page: desk.page + 1 }, [HERE]];
  if (key === "enter")
    return [desk, [wrong.length > 0 ? { kind: "all-but", answers, wrong } : { kind: "confirm", answers }]];
  const action = actionOf(plan, key);
  if (action === "absent") return [desk, [{ kind: "decline", answers }]];
  return [desk, [action === "undo" || action === "away" ? { kind: action, answers } : HERE]];
};

/**
 * What a key does at the question whether a pass of several was watched: letters mark fixtures that were not, which ENTER leaves
 * out; the again button says that nobody was there. `member` is the fixture that the key names, by its place in the rack, from 0.
 */
export const aboutSilenceOfAll = (desk: Desk, key: string, member: number | undefined, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  const members = desk.excepted;
  if (key === "enter")
    return [desk, [members.length > 0 ? { kind: "confirm-but", answers, members } : { kind: "confirm", answers }]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "decline", answers }]];
  if (member !== undefined) return [excepting(desk, member), [HERE]];
  return [desk, [actionOf(plan, key) === "away" ? { kind: "away", answers } : HERE]];
};

/** The same key again takes the mark away. */
const excepting = (desk: Desk, place: number | undefined): Desk => {
  if (place === undefined) return desk;
  const others = desk.excepted.filter((one) => one !== place);
  return { ...desk, excepted: others.length < desk.excepted.length ? others : [...desk.excepted, place] };
};
