import { fittedOf } from "../../../data/profile/profile.ts";
import type { HandStep, HandWork } from "../../../data/sequence/by-hand.ts";
import { rank } from "../../../diagnosis/model/rank.ts";
import { COVERS } from "../../../domain/trade/covers.ts";
import type { HoldPointId } from "../../../domain/trade/hold-points.ts";
import { inspection } from "../../../domain/trade/inspections.ts";
import type { ReadingId } from "../../../domain/trade/readings.ts";
import { answersOf, observationsOf } from "../../events/observations.ts";
import { closingDue } from "../../release/hold-rules.ts";
import { blockingLooks } from "../../release/standing.ts";
import { knownIn } from "../job.ts";
import type { Next } from "../next.ts";
import type { Session } from "../session.ts";
import { cleanTask } from "./cleaning.ts";
import { closes, historyNow, holdDue, holdOfStep } from "./holds.ts";
import { lookDue, somethingWrong } from "./looks.ts";
import type { HandTask, TaskOf } from "./task.ts";

/** What is to be done by hand before the driven step `next`, or at the end without one; undefined when it can go on. */
export const handDue = (session: Session, next: number | undefined): HandTask | undefined => {
  for (const step of session.job.sequence.byHand) {
    const task = next === undefined || step.before <= next ? taskOf(session, step) : undefined;
    if (task) return task;
  }
  return undefined;
};

const taskOf = (session: Session, { id, work }: HandStep): HandTask | undefined => {
  switch (work.kind) {
    case "hold-point":
      return holdTask(session, id, work.points);
    case "inspect":
      return lookTask(session, work);
    case "clean":
      return cleanTask(session, work);
    case "reading":
      return readingTask(session, id, work.reading);
    default:
      return work satisfies never;
  }
};

/** Before it is closed it is said what was found. */
const holdTask = (session: Session, step: string, points: readonly HoldPointId[]): HandTask | undefined => {
  const point = holdOfStep(session, step, points);
  return point && closes(points) && mendingDue(session) ? faultTask(session) : point;
};

const lookTask = (session: Session, work: Extract<HandWork, { kind: "inspect" }>): HandTask | undefined => {
  const look = lookDue(session, work);
  if (!look) return undefined;
  const { holds } = COVERS[look.kind === "looks" ? look.cover : inspection(look.inspection).cover];
  return holdDue(session, holds) ?? look;
};

const HOLDS: Readonly<Record<ReadingId, readonly HoldPointId[]>> = {
  "earth-continuity": ["isolated"],
  "electrical-safety": ["unplugged"],
  "source-hours": ["still"],
};
const readingTask = (session: Session, step: string, reading: ReadingId): HandTask | undefined => {
  if (session.view.readings.some((one) => one.step === step)) return undefined;
  // A repair after the reading would want the reading again.
  if (reading !== "source-hours" && mendingDue(session)) return faultTask(session);
  const task: TaskOf<"reading"> = { kind: "reading", reading, step, value: undefined, initials: "", note: "" };
  return holdDue(session, HOLDS[reading]) ?? task;
};

const mendingDue = (session: Session): boolean => somethingWrong(session, session.named);

const MOST_CHOICES = 8;
/** What it may have been, likeliest first, what was mended in this run left out. */
export const faultTask = (session: Session): TaskOf<"fault"> => {
  const { view, job } = session;
  const { profile } = job.timeline;
  const { faults } = rank(
    fittedOf(profile),
    observationsOf(view, profile, knownIn(session)),
    answersOf(view),
    job.learned,
  );
  const mended = view.repaired.flatMap((one) => (one.what === "fault" ? [one.fault] : []));
  const choices = faults.flatMap((one) => (one.kind === "fault" && !mended.includes(one.id) ? [one.id] : []));
  return { kind: "fault", choices: choices.slice(0, MOST_CHOICES), note: "" };
};

/** True for work that comes after the fixture was isolated: what could still be driven is offered before it. */
export const isBehindIsolation = (task: HandTask): boolean => task.kind === "hold-point" && task.point === "isolated";

/** What stands before any movement: looks that block power, and the hold points of closing when covers were off. */
export const guardOf = (session: Session, next: Next): HandTask | undefined => {
  const history = historyNow(session);
  const looks = blockingLooks(history);
  if (looks.length > 0) return { kind: "blocked", looks };
  const [point] = closingDue(history);
  return point && { kind: "hold-point", point, step: undefined, next };
};
