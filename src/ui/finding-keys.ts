import type { FunctionId } from "../domain/trade/functions.ts";
import type { WatcherInput } from "../run/machine/input.ts";
import type { Session, StageOf } from "../run/session/session.ts";
import type { Desk, Keyed } from "./desk.ts";
import { actionOf, isKey, isOwn, type KeyPlan } from "./key-plan.ts";
import { MOST } from "./pages.ts";

const HERE: WatcherInput = { kind: "here" };

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
