import type { HandStep, HandWork } from "../../../data/sequence/sequence.ts";
import { isNamedFor } from "../../../data/shop/shop.ts";
import type { FaultId } from "../../../diagnosis/model/knowledge/faults.ts";
import { COVERS, type HoldPointId } from "../../../domain/trade/hold-points.ts";
import { holdsBefore, type InspectionId, inspection } from "../../../domain/trade/inspections.ts";
import { READINGS, type ReadingId } from "../../../domain/trade/readings.ts";
import { isFixtures } from "../../events/fixture-said.ts";
import { closingDue } from "../../release/by-hand-rules.ts";
import { passesWanted } from "../../release/clean-passes.ts";
import { againstPower, curesOf, type OpenDanger } from "../../release/dangers.ts";
import { releaseStatusOf } from "../../release/release-status.ts";
import { stepFacts } from "../../release/step-facts.ts";
import { DIAGNOSIS_FIRST, type DiagnosisFirst, diagnosisNow } from "../diagnosing.ts";
import type { Next } from "../job.ts";
import type { Session } from "../session.ts";
import { cleanTask } from "./cleaning.ts";
import { closes, historyNow, holdDue, holdOfStep, inThisRun } from "./holds.ts";
import { lookAt, lookDue, somethingWrong } from "./looks.ts";
import type { HandTask, TaskOf } from "./task.ts";

/** What is due by hand; where that hangs on the diagnosis, the diagnosis. */
type HandDue = HandTask | DiagnosisFirst | undefined;

/** What is to be done by hand before the driven step `next`, or at the end without one; undefined when it can go on. */
export const handDue = (session: Session, next: number | undefined): HandDue => {
  for (const step of session.job.sequence.byHand) {
    const task = next === undefined || step.before <= next ? taskOf(session, step) : undefined;
    if (task === DIAGNOSIS_FIRST) return task;
    if (task) return stoppedBy(session, task) ?? task;
  }
  return undefined;
};

/** The next page on the way to an inspection that was chosen: its hold points, a danger that forbids it, then itself. */
export const chosenDue = (session: Session, id: InspectionId): HandTask => {
  const task = lookOrMeasure(session, lookAt(id, "proposed"));
  return stoppedBy(session, task) ?? task;
};

const taskOf = (session: Session, { id, work }: HandStep): HandDue => {
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
const holdTask = (session: Session, step: string, points: readonly HoldPointId[]): HandDue => {
  const point = holdOfStep(session, step, points);
  return point && closes(points) && mendingDue(session) ? faultTask(session) : point;
};

const lookTask = (session: Session, work: Extract<HandWork, { kind: "inspect" }>): HandDue => {
  const look = lookDue(session, work);
  if (look === undefined || look === DIAGNOSIS_FIRST) return look;
  return look.kind === "looks" ? (holdDue(session, COVERS[look.cover].holds) ?? look) : lookOrMeasure(session, look);
};

/** Its hold points first. The earth is measured, not looked at. */
const lookOrMeasure = (session: Session, look: TaskOf<"look">): HandTask => {
  const { inspection: id } = look;
  return id === "earth-continuity" ? measure(session, id, undefined) : (holdDue(session, holdsBefore(id)) ?? look);
};

const HOLDS: Readonly<Record<ReadingId, readonly HoldPointId[]>> = {
  "earth-continuity": ["isolated"],
  "electrical-safety": ["unplugged"],
  "source-hours": ["still"],
};
const readingTask = (session: Session, step: string, reading: ReadingId): HandDue => {
  const taken = session.view.readings.some((one) => one.step === step || (one.reading === reading && isFixtures(one)));
  if (taken) return undefined;
  // A repair after the reading would want the reading again.
  if (reading !== "source-hours" && mendingDue(session)) return faultTask(session);
  return measure(session, reading, step);
};

const measure = (session: Session, reading: ReadingId, step: string | undefined): HandTask => {
  const initials = READINGS[reading].signed === "by a competent person" ? whoMeasured(session) : "";
  return holdDue(session, HOLDS[reading]) ?? { kind: "reading", reading, step, value: undefined, initials, note: "" };
};

/**
 * Whoever took the measurement before stands there to be agreed to or replaced; at first whoever is there, where the shop
 * names this person for it, else whoever measured this fixture the last time.
 */
const whoMeasured = ({ view, job, person }: Session): string => {
  const now = view.readings.findLast(isCompetent)?.initials;
  if (now !== undefined) return now;
  if (isNamedFor(job.people, "measure", person)) return person;
  const before = job.past.findLast(({ body }) => body.kind === "reading-taken" && isCompetent(body))?.body;
  return before?.kind === "reading-taken" ? before.initials : "";
};

const isCompetent = ({ reading, initials }: { readonly reading: ReadingId; readonly initials: string }): boolean =>
  READINGS[reading].signed === "by a competent person" && initials !== "";

const mendingDue = (session: Session): boolean => somethingWrong(session, session.named);

const MOST_CHOICES = 8;
/**
 * The question what it was, likeliest first, what was repaired in this run left out; or the diagnosis that must come first.
 */
export const faultTask = (session: Session): TaskOf<"fault"> | DiagnosisFirst => {
  const diagnosis = diagnosisNow(session);
  if (!diagnosis) return DIAGNOSIS_FIRST;
  const mended = session.view.repaired.flatMap((one) => (one.what === "fault" ? [one.fault] : []));
  const likeliest = diagnosis.ranking.faults.flatMap((one) =>
    one.kind === "fault" && !mended.includes(one.id) ? [one.id] : [],
  );
  const choices = [...new Set([...wantedBy(session, likeliest), ...likeliest])];
  return { kind: "fault", choices: choices.slice(0, MOST_CHOICES), note: "" };
};

/** Whether work comes after the fixture was isolated: what could still be driven is offered before it. */
export const isBehindIsolation = (task: HandTask): boolean => task.kind === "hold-point" && task.point === "isolated";

/** Whatever would clear an open danger comes first, the likeliest of it first. */
const wantedBy = (session: Session, likeliest: readonly FaultId[]): readonly FaultId[] => {
  const open = againstPower(historyNow(session)).filter(({ wants }) => wants === "repair");
  const cures = open.flatMap(({ source }) => (source === "electrical-safety" ? [] : curesOf(source)));
  return [...likeliest.filter((id) => cures.includes(id)), ...cures];
};

/** A danger is open, and this would close the fixture or be done under power. The electrical test itself may be what shows that it is good again. */
const stoppedBy = (session: Session, task: HandTask): TaskOf<"blocked"> | undefined => {
  if (isUnderPower(task)) return blockedBy(session);
  const toBeClosed =
    (task.kind === "hold-point" && closes([task.point])) ||
    (task.kind === "reading" && task.reading === "electrical-safety");
  const blocked = toBeClosed ? blockedBy(session) : undefined;
  return blocked?.dangers.every(isToBeTested) ? undefined : blocked;
};

const isUnderPower = (task: HandTask): boolean =>
  (task.kind === "hold-point" && task.point === "still") ||
  (task.kind === "look" && inspection(task.inspection).cover === "panel") ||
  (task.kind === "reading" && task.reading === "source-hours");

const isToBeTested = ({ source, wants }: OpenDanger): boolean =>
  source === "electrical-safety" && wants === "good-answer";

/** What forbids power; undefined when nothing does. */
const blockedBy = (session: Session): TaskOf<"blocked"> | undefined => {
  const [first, ...others] = againstPower(historyNow(session));
  return first && { kind: "blocked", dangers: [first, ...others] };
};

/** What comes next for a danger: what was repaired, then the inspection or the measurement again, behind its hold points. */
export const towardsSafety = (session: Session, danger: OpenDanger): HandTask | DiagnosisFirst => {
  const { source, wants } = danger;
  if (wants === "repair") return faultTask(session);
  if (source !== "electrical-safety") return lookOrMeasure(session, lookAt(source, "again"));
  const [point] = closingDue(historyNow(session));
  return point ? { kind: "hold-point", point, step: undefined, next: undefined } : measure(session, source, undefined);
};

/**
 * What comes before any movement: dangers, and the hold points of closing when covers were off;
 * undefined where nothing is in the way.
 */
export const guardOf = (session: Session, next: Next): HandTask | undefined => {
  const blocked = blockedBy(session);
  if (blocked) return blocked;
  const [point] = closingDue(historyNow(session));
  return point && { kind: "hold-point", point, step: undefined, next };
};

/** What is asked at the end of a check-in or a replay. Undefined where a run ends with its job sheet. */
export const endTask = (session: Session): TaskOf<"once-more"> | TaskOf<"sign"> | undefined => {
  if (session.job.ends === "with the job sheet") return undefined;
  return (session.enough ? undefined : onceMore(session)) ?? signTask(session);
};

/** A replayed step that failed before, and has not been clean often enough since to call it gone. */
const onceMore = (session: Session): TaskOf<"once-more"> | undefined => {
  if (session.job.opening.replays === undefined) return undefined;
  const history = historyNow(session);
  const facts = stepFacts(history);
  return session.view.steps
    .flatMap((step, index): readonly TaskOf<"once-more">[] => {
      const fact = step.judged?.result === "pass" && facts.find(({ movement }) => movement === step.fingerprint);
      const wanted = fact ? passesWanted(history, session.job.fitted, fact) : undefined;
      return wanted ? [{ kind: "once-more", index, clean: wanted.clean, needed: wanted.needed }] : [];
    })
    .at(0);
};

/** The question of the signature, with the reasons as they would be with this run over. */
const signTask = ({ episode, told, person, job }: Session): TaskOf<"sign"> => {
  const over = { kind: "run-closed", how: "finished" } as const;
  const { reasons } = releaseStatusOf([...episode, ...inThisRun([...told, over], person)], job.fitted);
  return { kind: "sign", reasons, note: "" };
};
