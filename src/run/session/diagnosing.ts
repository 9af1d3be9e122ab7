import { withEffects } from "../machine/running.ts";
import { coversOff } from "./by-hand/holds.ts";
import type { Change } from "./change.ts";
import type { Diagnosis, Findings } from "./diagnose.ts";
import { type AfterDiagnosis, type DiagnosedFrom, questionOf, type Session } from "./session.ts";

/** What stands where a decision needs a diagnosis that has to be asked for first. */
export const DIAGNOSIS_FIRST = "diagnosis first";
export type DiagnosisFirst = typeof DIAGNOSIS_FIRST;

/** The diagnosis of all that is known now; undefined while it has to be asked for. */
export const diagnosisNow = (session: Session): Diagnosis | undefined => {
  const { diagnosed } = session;
  return diagnosed && isSame(diagnosed.of, evidenceNow(session)) ? diagnosed.diagnosis : undefined;
};

/** Asks for the diagnosis, and waits without standing in the way of the frames. */
export const askForDiagnosis = (session: Session, purpose: AfterDiagnosis): Change => {
  const waiting: Session = { ...session, stage: { kind: "diagnosing", of: evidenceNow(session), purpose } };
  return withEffects(waiting, { kind: "diagnose", key: questionOf(waiting) ?? "", findings: findingsNow(session) });
};

const evidenceNow = (session: Session): DiagnosedFrom => {
  const { steps, inspected } = session.view;
  return { steps, inspected, person: session.person, open: coversOff(session) };
};

const isSame = (a: DiagnosedFrom, b: DiagnosedFrom): boolean =>
  a.steps === b.steps && a.inspected === b.inspected && a.person === b.person && a.open.join() === b.open.join();

const findingsNow = (session: Session): Findings => {
  const { job, view, person } = session;
  return {
    profile: job.timeline.profile,
    bench: job.bench,
    view,
    simulated: job.opening.simulated,
    person,
    learned: job.learned,
    constants: job.constants,
    latest: session.told.at(-1)?.kind === "inspected" ? "an inspection" : "a test",
    open: coversOff(session),
  };
};
