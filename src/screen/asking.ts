import type { Input } from "../session/input.ts";
import type { Session, Stage } from "../session/session.ts";
import type { Desk, Keyed } from "./desk.ts";
import { type Action, actionOf, isKey, type KeyPlan } from "./key-plan.ts";
import { aboutsOf, pagesOf, type SymptomPage, symptomAt } from "./pages.ts";

export type Asking = Extract<Stage, { kind: "asking" }>;

/** A key at the question what was seen in a step. */
export const atQuestion = (desk: Desk, key: string, session: Session, stage: Asking, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (key === "0") return [{ ...desk, page: desk.page + 1 }, [{ kind: "here" }]];
  if (/^[1-9]$/.test(key)) return [desk, [byDigit(pageOf(desk, session, stage), Number(key), answers)]];
  if (key === "tab") return [{ ...desk, about: desk.about + 1, page: 0 }, [{ kind: "here" }]];
  if (key === "enter") return [desk, [{ kind: "confirm", answers }]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "again", answers }]];
  return byLetter(desk, actionOf(plan, key), stage, answers);
};

/** The list that lies open: of which function, and which of its pages. */
export const pageOf = (desk: Desk, { job }: Session, { index }: Asking): SymptomPage => {
  const abouts = aboutsOf(job, index);
  const pages = pagesOf(job, index, abouts[desk.about % abouts.length]);
  return pages[desk.page % pages.length] ?? { about: undefined, symptoms: [] };
};

const byDigit = (page: SymptomPage, digit: number, answers: string): Input => {
  const symptom = symptomAt(page, digit);
  return symptom ? { kind: "symptom", answers, symptom } : { kind: "here" };
};

const byLetter = (desk: Desk, action: Action | undefined, stage: Asking, answers: string): Keyed => {
  switch (action) {
    case "note":
      return [{ ...desk, entry: { what: "note", text: stage.note } }, [{ kind: "here" }]];
    case "person":
      return [{ ...desk, entry: { what: "person", text: "" } }, [{ kind: "here" }]];
    case "good":
      return [desk, [{ kind: "judge", answers, result: "pass" }]];
    case "unsure":
      return [desk, [{ kind: "judge", answers, result: "unsure" }]];
    case "undo":
    case "slower":
    case "back":
    case "away":
      return [desk, [{ kind: action, answers }]];
    default:
      return [desk, [{ kind: "here" }]];
  }
};
