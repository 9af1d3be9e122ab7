import type { Fitted } from "../../diagnosis/model/network.ts";
import { isNameless } from "../events/no-serial.ts";
import { standingDangers } from "./dangers.ts";
import type { History } from "./history.ts";
import { dueLooks, unansweredHolds } from "./hold-rules.ts";
import { lastOf, NEVER } from "./moment.ts";
import { unsignedReadings } from "./reading-rules.ts";
import { disturbedSteps, failedSteps, unfinishedRepairs, untestedFunctions, untestedSteps } from "./step-rules.ts";

/** One thing that must be so before a fixture is ready; `open` says in words what still stands against it. */
export interface Rule {
  readonly id: RuleId;
  readonly says: string;
  readonly open: (history: History, fitted: readonly Fitted[]) => readonly string[];
}

/** Ready means that none of these has anything open, and that a person signs. */
export const RULE_IDS = [
  "named",
  "over",
  "danger",
  "failed",
  "mended",
  "disturbed",
  "tested",
  "looked",
  "held",
  "measured",
  "put-by",
] as const;
export type RuleId = (typeof RULE_IDS)[number];

/** Why a fixture is not ready. */
export interface Reason {
  readonly rule: RuleId;
  readonly words: string;
}

const unnamed = (history: History): readonly string[] => {
  const opening = history.find(({ body }) => body.kind === "run-opened")?.body;
  if (opening?.kind !== "run-opened") return ["no check since it was signed back, or none at all"];
  return isNameless(opening.fixture.serial) ? ["it has no serial number: nobody could tell it from others"] : [];
};

const unfinishedRuns = (history: History): readonly string[] => {
  const closed = new Set(history.filter(({ body }) => body.kind === "run-closed").map(({ run }) => run));
  const opened = history.filter(({ body, run }) => body.kind === "run-opened" && !closed.has(run));
  return opened.map(({ run }) => `run ${run} is not finished`);
};

/** Put by with a person's own words; taken up again by the next run or repair. */
const putBy = (history: History): readonly string[] => {
  const at = lastOf(history, "quarantined", ({ note }) => note.trim() !== "");
  const takenUp = Math.max(
    lastOf(history, "run-opened", () => true),
    lastOf(history, "repaired", () => true),
  );
  const body = history[at]?.body;
  return at === NEVER || takenUp > at || body?.kind !== "quarantined" ? [] : [`put by: ${body.note}`];
};

export const RULES: readonly Rule[] = [
  { id: "named", says: "the fixture can be told from others", open: unnamed },
  { id: "over", says: "no run is unfinished", open: unfinishedRuns },
  { id: "danger", says: "no danger to people stands unmended", open: standingDangers },
  { id: "failed", says: "every failed step has passed since", open: failedSteps },
  { id: "mended", says: "every fault that was found is mended", open: unfinishedRepairs },
  { id: "disturbed", says: "every disturbed step has passed since", open: disturbedSteps },
  {
    id: "tested",
    says: "every step and every function was tested",
    open: (history, fitted) => [...untestedSteps(history), ...untestedFunctions(history, fitted)],
  },
  { id: "looked", says: "every due look by hand is answered, and good", open: dueLooks },
  { id: "held", says: "every hold point is answered", open: unansweredHolds },
  { id: "measured", says: "earth continuity and electrical safety are signed readings", open: unsignedReadings },
  { id: "put-by", says: "nobody has put it by since", open: putBy },
];

/** Everything that stands against signing, rule by rule. */
export const reasonsAgainst = (history: History, fitted: readonly Fitted[]): readonly Reason[] =>
  RULES.flatMap(({ id, open }) => open(history, fitted).map((words) => ({ rule: id, words })));
