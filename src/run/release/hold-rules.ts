import { type Fitted, mechanismsOf } from "../../diagnosis/model/places.ts";
import { alwaysDue } from "../../domain/trade/due.ts";
import { CLOSING, type HoldPointId, holdPointWords } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import { isSafetyInspection } from "../../domain/trade/safety-findings.ts";
import type { History } from "./history.ts";
import { isBehindCover, latestLooks, openedAt, unheldAt } from "./look-facts.ts";
import { lastOf, NEVER } from "./moment.ts";

/** Inspections whose last answer was bad; dangers have a rule of their own. */
export const badLooks = (history: History): readonly string[] =>
  [...latestLooks(history)].flatMap(([id, { answer }]) =>
    answer === "bad" && !isSafetyInspection(id) ? [`${inspection(id).look}: ${inspection(id).bad}`] : [],
  );

/** Due inspections without an answer, and any of which nobody was sure. The earth is measured: that has a rule of its own. */
export const openLooks = (history: History, fitted: readonly Fitted[]): readonly string[] => {
  const looks = latestLooks(history);
  const due = alwaysDue(mechanismsOf(fitted));
  return [...new Set<InspectionId>([...due, ...looks.keys()])].flatMap((id) => {
    const answer = looks.get(id)?.answer ?? "not-asked";
    if (answer === "good" || answer === "bad") return [];
    if (answer === "not-asked" && (!due.includes(id) || id === "earth-continuity")) return [];
    return [`${inspection(id).look}: ${answer === "unsure" ? "not sure" : "not inspected"}`];
  });
};

/** Hold points that were passed over: before a look behind a cover, and before power returns. */
export const unansweredHolds = (history: History): readonly string[] => [
  ...new Set([...unheld(history), ...unclosed(history)]),
];

const unheld = (history: History): readonly string[] =>
  [...latestLooks(history)].flatMap(([id, { at, answer }]) =>
    answer === "not-asked" || !isBehindCover(inspection(id).cover) || history[at]?.body.kind !== "inspected"
      ? []
      : unheldAt(history, at).map(
          (point) => `not confirmed before looking behind the ${inspection(id).cover} covers: ${holdPointWords(point)}`,
        ),
  );

const unclosed = (history: History): readonly string[] =>
  closingDue(history).map((point) => `covers were off, not confirmed since: ${holdPointWords(point)}`);

/** The hold points still due before power may return; none while nothing was opened. */
export const closingDue = (history: History): readonly HoldPointId[] => {
  const opened = openedAt(history);
  if (opened === NEVER) return [];
  return CLOSING.filter((point) => lastOf(history, "hold-confirmed", (hold) => hold.point === point) < opened);
};
