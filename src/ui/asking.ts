import type { WatcherInput } from "../run/machine/input.ts";
import type { Session } from "../run/session/session.ts";
import type { Desk, Keyed } from "./desk.ts";
import { type Action, actionOf, isKey, type KeyPlan } from "./key-plan.ts";
import { aboutsOf, MOST, pagesOf, type SymptomPage, symptomAt } from "./pages.ts";
import type { AskingStage } from "./sight.ts";

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

const HERE: WatcherInput = { kind: "here" };

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
