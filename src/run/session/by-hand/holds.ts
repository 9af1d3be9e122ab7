import { CLOSING, COVER_IDS, type CoverId, type HoldPointId, OPENING } from "../../../domain/trade/hold-points.ts";
import { inspection } from "../../../domain/trade/inspections.ts";
import type { EventBody } from "../../events/event.ts";
import type { History } from "../../release/history.ts";
import type { Session } from "../session.ts";
import type { TaskOf } from "./task.ts";

/** Everything told of the fixture: before this run and in it. */
export const historyNow = ({ job, told, person }: Session): History => [...job.past, ...inThisRun(told, person)];

/** What this run has told, as a part of the fixture's history. */
export const inThisRun = (told: readonly EventBody[], person: string): History =>
  told.map((body) => ({ run: THIS_RUN, person, body }));
/** Told from the names of other runs by its blank. */
const THIS_RUN = "this run";

/** What has been confirmed and holds after one more point: power, and closing, end what was isolated. */
export const holdsAfter = (holds: readonly HoldPointId[], point: HoldPointId | "mains-on"): readonly HoldPointId[] => {
  if (point === "mains-on") return [];
  if (point === "isolated") return ["unplugged", "isolated"];
  if (point === "covers-on") return holds.filter((one) => !OPENING.some((opening) => opening === one));
  return [...holds, point];
};

/** What still holds when a point is undone; whatever depends on the isolator goes with it. */
export const holdsWithout = (holds: readonly HoldPointId[], point: string): readonly HoldPointId[] =>
  point === "isolated" || point === "unplugged" ? [] : holds.filter((one) => one !== point);

/**
 * The first of these points that does not hold now; it has to be confirmed before anything behind it is
 * done. Undefined where all of them hold.
 */
export const holdDue = (session: Session, wanted: readonly HoldPointId[]): TaskOf<"hold-point"> | undefined => {
  const point = wanted.find((one) => !session.holds.includes(one));
  return point && { kind: "hold-point", point, step: undefined, next: undefined };
};

/** The first of these points that was not confirmed for a step of the sequence; undefined where all were. */
export const holdOfStep = (
  { view }: Session,
  step: string,
  points: readonly HoldPointId[],
): TaskOf<"hold-point"> | undefined => {
  const confirmed = view.confirmed.filter((one) => one.step === step).map(({ point }) => point);
  const point = points.find((one) => !confirmed.includes(one));
  return point && { kind: "hold-point", point, step, next: undefined };
};

/** The covers that are off: once isolated, every cover behind which something was inspected; only "outside" while it is just unplugged. */
export const coversOff = ({ holds, view }: Session): readonly CoverId[] => {
  if (!OPENING.every((point) => holds.includes(point))) return holds.includes("unplugged") ? ["outside"] : [];
  const behind = new Set(view.inspected.map((one) => inspection(one.inspection).cover));
  return COVER_IDS.filter((cover) => behind.has(cover));
};

/** Whether one of these points belongs to closing the fixture. */
export const closes = (points: readonly HoldPointId[]): boolean =>
  points.some((point) => CLOSING.some((one) => one === point));
