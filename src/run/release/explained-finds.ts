import type { History } from "./history.ts";
import { looksIn } from "./look-facts.ts";
import { eventsIn, type Moment } from "./moment.ts";

/**
 * Finds that only name what had been repaired just before: repaired first and named afterwards, with nothing seen to be wrong
 * in between. Each repair explains one find.
 */
export const explainedFinds = (history: History): ReadonlySet<Moment> => {
  const used = new Set<Moment>();
  const explained = new Set<Moment>();
  for (const { at, body } of eventsIn(history, "found")) {
    if (body.what !== "fault") continue;
    const repair = eventsIn(history, "repaired").findLast(
      (one) => one.at < at && !used.has(one.at) && one.body.what === "fault" && one.body.fault === body.fault,
    );
    const namedBefore = eventsIn(history, "found").some(
      (one) => repair && one.at < repair.at && one.body.what === "fault" && one.body.fault === body.fault,
    );
    if (!repair || namedBefore || isWrongBetween(history, repair.at, at)) continue;
    used.add(repair.at);
    explained.add(at);
  }
  return explained;
};

const isWrongBetween = (history: History, from: Moment, to: Moment): boolean =>
  looksIn(history).some(({ at, answer }) => at > from && at < to && answer === "bad") ||
  eventsIn(history, "step-judged").some(
    ({ at, body }) => at > from && at < to && (body.result === "fail" || body.result === "unsure"),
  );
