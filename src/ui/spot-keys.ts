import type { Desk, Keyed } from "./desk.ts";
import { isKey, type KeyPlan } from "./key-plan.ts";

/** A key while it works at the fault position: arrows nudge it and set its pace, any of the three buttons ends it. */
export const atSpot = (desk: Desk, key: string, plan: KeyPlan): Keyed => {
  const answers = desk.question ?? "";
  if (key === "left") return [desk, [{ kind: "nudge", answers, towards: "low" }]];
  if (key === "right") return [desk, [{ kind: "nudge", answers, towards: "high" }]];
  if (key === "up") return [desk, [{ kind: "faster", answers }]];
  if (key === "down") return [desk, [{ kind: "slower", answers }]];
  const ends = key === "enter" || [plan.press, plan.again, plan.stop].some((keys) => isKey(keys, key));
  return [desk, [ends ? { kind: "confirm", answers } : { kind: "here" }]];
};
