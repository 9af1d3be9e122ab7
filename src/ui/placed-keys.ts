import type { Desk, Keyed } from "./desk.ts";
import { actionOf, isKey, type KeyPlan } from "./key-plan.ts";

/** A key at where it happened: the digit of a test that would tell more, once more, or on with the run. */
export const atPlace = (desk: Desk, key: string, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (key === "enter") return [desk, [{ kind: "confirm", answers }]];
  if (/^[1-9]$/.test(key)) return [desk, [{ kind: "choose", answers, offer: Number(key) - 1 }]];
  if (isKey(plan.again, key)) return [desk, [{ kind: "again", answers }]];
  const action = actionOf(plan, key);
  if (action === "return" || action === "undo" || action === "slower" || action === "away")
    return [desk, [{ kind: action, answers }]];
  return [desk, [{ kind: "here" }]];
};
