import type { Fitted } from "../../diagnosis/model/places.ts";
import { keysOf } from "../../domain/keys.ts";
import { isNameless } from "../events/summary.ts";
import {
  badLooks,
  impossibleReadings,
  leftOutCleaning,
  openLooks,
  unansweredHolds,
  unsignedReadings,
} from "./by-hand-rules.ts";
import { pressedPasses, unexplainedPasses } from "./clean-passes.ts";
import { burntSmells, dangerWords } from "./dangers.ts";
import { eventsIn, type History, lastOf, NEVER, sinceKindChanged } from "./history.ts";
import { disturbedSteps, failedSteps, unfinishedRepairs, untestedFunctions, untestedSteps } from "./step-rules.ts";

/** What must be so before a fixture is ready: each says in words what still blocks it. In the order in which they are told, dangers first. */
const RULES = {
  /** No danger to people is open. */
  danger: (history) => [...dangerWords(history), ...burntSmells(history)],
  /** Nobody holds it back. */
  "held-back": (history) => heldBack(history),
  /** No inspection was bad. */
  bad: badLooks,
  /** Every failed step has passed since. */
  failed: failedSteps,
  /** Every fault that was found is repaired. */
  repaired: unfinishedRepairs,
  /** Every step that a repair has affected has passed since. */
  disturbed: disturbedSteps,
  /** What failed and passed without a repair, or came and went, has passed often enough. */
  "passed-enough": unexplainedPasses,
  /** It can be told from others. */
  named: (history) => unnamed(history),
  /** No run is unfinished. */
  over: (history) => unfinishedRuns(history),
  /** Every step and every function was tested. */
  tested: (history, fitted) => [
    ...untestedSteps(sinceKindChanged(history)),
    ...untestedFunctions(sinceKindChanged(history), fitted),
  ],
  /** What was pressed in and called a pass has a reason. */
  pressed: pressedPasses,
  /** Every due inspection is answered. */
  looked: openLooks,
  /** Not all of the cleaning was left out. */
  cleaned: leftOutCleaning,
  /** Every hold point is answered. */
  held: unansweredHolds,
  /** The measurements are there, signed, and can be. */
  measured: (history) => [...impossibleReadings(history), ...unsignedReadings(history)],
} as const satisfies Readonly<Record<string, (history: History, fitted: readonly Fitted[]) => readonly string[]>>;
export type RuleId = keyof typeof RULES;
export const RULE_IDS = keysOf(RULES);

/** What no level of release can leave out: whatever is wrong, dangerous, unfinished or unexplained. */
export const ALWAYS: ReadonlySet<RuleId> = new Set<RuleId>([
  "danger",
  "held-back",
  "bad",
  "failed",
  "repaired",
  "disturbed",
  "passed-enough",
  "named",
  "over",
  "pressed",
  "held",
]);

/** Why a fixture is not ready. */
export interface Reason {
  readonly rule: RuleId;
  readonly words: string;
}

/** Everything that blocks a signature, rule by rule. Ready means that there is nothing, and that a person signs. */
export const reasonsAgainst = (history: History, fitted: readonly Fitted[]): readonly Reason[] =>
  RULE_IDS.flatMap((rule) => RULES[rule](history, fitted).map((words) => ({ rule, words })));

const unnamed = (history: History): readonly string[] => {
  const opening = history.find(({ body }) => body.kind === "run-opened")?.body;
  if (opening?.kind !== "run-opened") return ["no check since it was signed off, or none at all"];
  return isNameless(opening.fixture.serial) ? ["it has no serial number: nobody could tell it from others"] : [];
};

const unfinishedRuns = (history: History): readonly string[] => {
  const closed = new Set(history.filter(({ body }) => body.kind === "run-closed").map(({ run }) => run));
  const opened = history.filter(({ body, run }) => body.kind === "run-opened" && !closed.has(run));
  return opened.map(({ run }) => `run ${run} is not finished`);
};

/** Held back in a person's own words, until a person lifts it; neither a run nor a repair does. */
const heldBack = (history: History): readonly string[] => {
  const lifted = lastOf(history, "hold-lifted", () => true);
  const holds = eventsIn(history, "quarantined").filter(({ at, body }) => at > lifted && body.note.trim() !== "");
  const { body } = holds.at(-1) ?? {};
  if (lifted === NEVER && !body) return [];
  return body ? [`held back${body.initials === "" ? "" : ` by ${body.initials}`}: ${body.note}`] : [];
};
