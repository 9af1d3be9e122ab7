import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { READING_IDS, READINGS, type ReadingId, valueTrouble } from "../../domain/trade/readings.ts";
import { disturbedBy, mendedIn } from "./disturbed.ts";
import type { History } from "./history.ts";
import { isMeasured, openedAt } from "./look-facts.ts";
import { eventsIn, lastOf, type Moment, NEVER } from "./moment.ts";

/** Measurements that are due and not there, or not signed. */
export const unsignedReadings = (history: History): readonly string[] => {
  const [opened, repaired] = [openedAt(history), workOnMainsAt(history)];
  const when = repaired > opened ? "after the last repair" : "after the covers were off last";
  return [
    ...needed(history, "electrical-safety", Math.max(opened, repaired), when),
    ...needed(history, "earth-continuity", loomWorkAt(history), "after the work on the loom"),
  ];
};

/** Measurements that were called within the limit, and of a value that no earth has. */
export const impossibleReadings = (history: History): readonly string[] =>
  READING_IDS.flatMap((id) => {
    const last = eventsIn(history, "reading-taken").findLast(({ body }) => body.reading === id)?.body;
    const called = last?.verdict === "within" ? last.value : undefined;
    const wrong = called === undefined ? undefined : valueTrouble(id, called);
    return wrong === undefined ? [] : [`${READINGS[id].words}: ${wrong}`];
  });

/** In every check-in once, and again after this moment; within the limit and with the initials of who took it. */
const needed = (history: History, id: ReadingId, after: Moment, when: string): readonly string[] => {
  const taken = lastOf(
    history,
    "reading-taken",
    (body) => body.reading === id && body.verdict === "within" && body.initials.trim() !== "" && isMeasured(body),
  );
  if (taken > after) return [];
  return [`no signed measurement${taken === NEVER ? "" : ` ${when}`}: ${READINGS[id].words}`];
};

/** The last repair from outside after which a competent person tests all the same: dried out, or nobody knows what it touched. */
const workOnMainsAt = (history: History): Moment =>
  lastOf(history, "repaired", (repair) => disturbedBy(mendedIn(repair)) === "everything");

/** The last repair that touched the wires through the yoke; nobody knows what "something else" touched. */
const loomWorkAt = (history: History): Moment =>
  lastOf(history, "repaired", (repair) => {
    const mended = mendedIn(repair);
    if (mended === "something-else" || knownFault(mended).mechanism === "yoke-loom") return true;
    const disturbed = disturbedBy(mended);
    return disturbed === "everything" || disturbed.includes("yoke-loom");
  });
