import type { InspectionId } from "../domain/trade/inspections.ts";
import type { WatcherInput } from "../run/session/input.ts";
import type { Session, Stage } from "../run/session/session.ts";

type TaskByHand = Extract<Stage, { kind: "by-hand" }>["task"];
type Choices = Extract<TaskByHand, { kind: "fault" }>["choices"];

/** What simulated hands find; whoever set the faults knows. */
export interface Hands {
  readonly look: (id: InspectionId) => "good" | "bad";
  /** Which of these it is, with the part in the hand. */
  readonly name: (choices: Choices) => Choices[number] | undefined;
}

/** Finds nothing. */
export const IDLE: Hands = { look: () => "good", name: () => undefined };

const INITIALS = "SIM";

/**
 * How the simulated person answers what is asked by hand. It confirms, looks, cleans and mends; it takes no readings and
 * signs nothing: those are a competent person's.
 */
export const answersByHand = (
  { person }: Session,
  task: TaskByHand,
  answers: string,
  hands: Hands,
): readonly WatcherInput[] => [
  ...(person === "" ? [{ kind: "person", initials: INITIALS } as const] : []),
  answerTo(task, answers, hands),
];

const answerTo = (task: TaskByHand, answers: string, hands: Hands): WatcherInput => {
  switch (task.kind) {
    case "look":
      return { kind: "judge", answers, result: hands.look(task.inspection) === "good" ? "pass" : "fail" };
    case "looks":
      return answerToLooks(task, answers, hands);
    case "dirt":
      return { kind: "choose", answers, offer: 1 };
    case "cleans":
    case "clean":
      return { kind: "judge", answers, result: "pass" };
    case "reading":
      return { kind: "judge", answers, result: "not-asked" };
    case "fault":
      return { kind: "name-fault", answers, fault: hands.name(task.choices) ?? "nothing" };
    case "blocked":
    case "once-more":
      return { kind: "decline", answers };
    case "hold-point":
    case "mend":
    case "sign":
      return { kind: "confirm", answers };
    default:
      return task satisfies never;
  }
};

/** What is bad is picked out first. */
const answerToLooks = (
  { inspections }: Extract<TaskByHand, { kind: "looks" }>,
  answers: string,
  hands: Hands,
): WatcherInput => {
  const offer = inspections.findIndex((id) => hands.look(id) === "bad");
  return offer < 0 ? { kind: "judge", answers, result: "pass" } : { kind: "choose", answers, offer };
};
