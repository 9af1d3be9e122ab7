import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { type Fitted, mechanismsOf } from "../../diagnosis/model/places.ts";
import { CLOSING, type HoldPointId, holdPointWords } from "../../domain/trade/hold-points.ts";
import { alwaysDue, type InspectionId, inspection, isSafetyInspection } from "../../domain/trade/inspections.ts";
import { READING_IDS, READINGS, type ReadingId, valueTrouble } from "../../domain/trade/readings.ts";
import { eventsIn, type History, lastOf, type Moment, NEVER } from "./history.ts";
import { isBehindCover, isMeasured, latestLooks, openedAt, unheldAt } from "./look-facts.ts";
import { disturbedBy, mendedIn } from "./repairs.ts";

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

/** Says that all of the cleaning was left out and nobody wrote down why; nothing where that is not so. */
export const leftOutCleaning = (history: History): readonly string[] => {
  const all = eventsIn(history, "cleaned").map(({ body }) => body);
  const latest = [...new Map(all.map((one) => [one.cleaning, one])).values()];
  if (latest.length === 0 || latest.some(({ done, note }) => done === "done" || note.trim() !== "")) return [];
  return [
    `nothing was cleaned: ${latest.length === 1 ? "it was" : `all ${latest.length} were`} left out without a note`,
  ];
};
