import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { READING_IDS, READINGS, type ReadingId } from "../../domain/trade/readings.ts";
import { disturbedBy, mendedIn } from "./disturbed.ts";
import type { History } from "./history.ts";
import { openedAt } from "./look-facts.ts";
import { eventsIn, lastOf, type Moment, NEVER } from "./moment.ts";

/** Readings that are due and not there, not signed, or outside the limit. */
export const unsignedReadings = (history: History): readonly string[] => [
  ...needed(history, "electrical-safety", openedAt(history), "after the covers were off last"),
  ...(loomWorkAt(history) === NEVER
    ? []
    : needed(history, "earth-continuity", loomWorkAt(history), "after the work on the loom")),
  ...outside(history),
];

/** In every check-in once, and again after this moment; within the limit and with the initials of who took it. */
const needed = (history: History, id: ReadingId, after: Moment, when: string): readonly string[] => {
  const taken = lastOf(
    history,
    "reading-taken",
    ({ reading, verdict, initials }) => reading === id && verdict === "within" && initials.trim() !== "",
  );
  if (taken > after) return [];
  return [`no signed reading${taken === NEVER ? "" : ` ${when}`}: ${READINGS[id].words}`];
};

/** The last repair that touched the wires through the yoke; nobody knows what "something else" touched. */
export const loomWorkAt = (history: History): Moment =>
  lastOf(history, "repaired", (repair) => {
    const mended = mendedIn(repair);
    if (mended === "something-else" || knownFault(mended).mechanism === "yoke-loom") return true;
    const disturbed = disturbedBy(mended);
    return disturbed === "everything" || disturbed.includes("yoke-loom");
  });

const outside = (history: History): readonly string[] =>
  READING_IDS.filter(
    (id) =>
      eventsIn(history, "reading-taken").findLast(({ body }) => body.reading === id && body.verdict !== "not-taken")
        ?.body.verdict === "outside",
  ).map((id) => `outside the limit: ${READINGS[id].words}`);
