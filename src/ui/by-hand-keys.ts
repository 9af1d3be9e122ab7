import { READINGS } from "../domain/trade/readings.ts";
import { guardedBy } from "../run/batch/guarded.ts";
import type { RackInput } from "../run/machine/input.ts";
import type { HandTask, TaskOf } from "../run/session/by-hand/task.ts";
import { type Action, actionOf, isKey, isOwn, type KeyPlan } from "./key-plan.ts";
import { type Desk, HERE, type Keyed, type TypedEntry } from "./sight.ts";

/** What a digit fills in, from 1, where something is to be written down. */
const FIELDS: Readonly<Partial<Record<HandTask["kind"], readonly TypedEntry["what"][]>>> = {
  look: ["photo"],
  mend: ["part", "minutes", "initials"],
};

const fieldsOf = ({ kind }: HandTask): readonly TypedEntry["what"][] => FIELDS[kind] ?? [];

/** At a measurement a figure begins the value, and ENTER asks who took it. */
const typedAt = ({ reading }: TaskOf<"reading">, key: string): TypedEntry | undefined => {
  if (/^[0-9.,]$/.test(key)) return { what: "value", text: key };
  return key === "enter" && READINGS[reading].signed === "by a competent person"
    ? { what: "initials", text: "" }
    : undefined;
};

/** What a key does at something done by hand: an answer by its letter, a line to fill in by its digit. */
export const atHand = (desk: Desk, key: string, task: HandTask, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  const field = fieldsOf(task)[Number(key) - 1];
  const typed = task.kind === "reading" ? typedAt(task, key) : undefined;
  if (typed) return [{ ...desk, entry: typed }, [HERE]];
  if (field) return [{ ...desk, entry: { what: field, text: "" } }, [HERE]];
  const action = actionOf(plan, key);
  if (action === "person") return [{ ...desk, entry: { what: "person", text: "" } }, [HERE]];
  if (action === "note" && "note" in task) return [{ ...desk, entry: { what: "note", text: task.note } }, [HERE]];
  if (key === "0") return [{ ...desk, page: desk.page + 1 }, [HERE]];
  return [desk, [answerFor(task, key, action, answers, plan)]];
};

const answerFor = (
  task: HandTask,
  key: string,
  action: Action | undefined,
  answers: string,
  plan: KeyPlan,
): RackInput => {
  if (task.kind === "fault") return nameFor(task, key, action, answers);
  if (CHOSEN_FROM.includes(task.kind) && /^[1-9]$/.test(key))
    return { kind: "choose", answers, offer: Number(key) - 1 };
  const guarded = guardedBy({ kind: "by-hand", task });
  if (guarded ? isOwn(plan, guarded, key) : key === "enter") return { kind: "confirm", answers };
  if (isKey(plan.again, key)) return { kind: "again", answers };
  if (action === "undo") return { kind: "undo", answers };
  if (action === "absent" && DECLINED.includes(task.kind)) return { kind: "decline", answers };
  const result = action && RESULTS[action];
  return result ? { kind: "judge", answers, result } : HERE;
};

/** Where a digit is one of a list. */
const CHOSEN_FROM: readonly HandTask["kind"][] = ["looks", "dirt", "cleans"];
/** Where "not this" is no answer about the fixture. */
const DECLINED: readonly HandTask["kind"][] = ["blocked", "mend", "once-more"];
const RESULTS: Partial<Record<Action, "pass" | "fail" | "unsure" | "not-asked">> = {
  good: "pass",
  failed: "fail",
  unsure: "unsure",
  absent: "not-asked",
};

/** The digit of a fault, 9 for something else, or nothing more. */
const nameFor = (
  { choices }: Extract<HandTask, { kind: "fault" }>,
  key: string,
  action: Action | undefined,
  answers: string,
): RackInput => {
  if (action === "absent") return { kind: "name-fault", answers, fault: "nothing" };
  if (key === "9") return { kind: "name-fault", answers, fault: "something-else" };
  const fault = /^[1-8]$/.test(key) ? choices[Number(key) - 1] : undefined;
  return fault ? { kind: "name-fault", answers, fault } : HERE;
};
