import { fittedOf } from "../../../data/profile/profile.ts";
import type { HandWork } from "../../../data/sequence/sequence.ts";
import { bestLookAt, knownFault } from "../../../diagnosis/model/knowledge/faults.ts";
import { mechanismsOf } from "../../../diagnosis/model/places.ts";
import { looksAfter } from "../../../domain/trade/cleanings.ts";
import {
  alwaysDue,
  type InspectionId,
  inspection,
  isSafetyInspection,
  wantsPower,
} from "../../../domain/trade/inspections.ts";
import type { EventBody } from "../../events/event.ts";
import { standingOnly } from "../../events/taken-back.ts";
import { curesOf } from "../../release/dangers.ts";
import { DIAGNOSIS_FIRST, type DiagnosisFirst, diagnosisNow } from "../diagnosing.ts";
import type { Session } from "../session.ts";
import type { TaskOf } from "./task.ts";

/** The next look that a step of the sequence asks for; undefined when all of them are answered. */
export const lookDue = (
  session: Session,
  { looks }: Extract<HandWork, { kind: "inspect" }>,
): TaskOf<"look"> | TaskOf<"looks"> | DiagnosisFirst | undefined => {
  const listed =
    typeof looks === "string" ? dueLooks(session).filter((id) => looks !== "outside" || isOutside(id)) : looks;
  const stale = toBeLookedAtAgain(session);
  const again = looks === "outside" ? listed.find((id) => stale.includes(id)) : stale[0];
  if (again) return lookAt(again, "again");
  const proposed = looks === "proposed" ? proposedLook(session) : undefined;
  if (proposed) return proposed === DIAGNOSIS_FIRST ? proposed : lookAt(proposed, "proposed");
  return together(listed.filter((id) => !isAnswered(session, id)));
};

/** How many fit on a screen of 24 rows, each with a digit. */
const MOST_TOGETHER = 8;

/** The looks under the first cover, on one page; what may be a danger to people is asked by itself, before them. */
const together = (open: readonly InspectionId[]): TaskOf<"look"> | TaskOf<"looks"> | undefined => {
  const [first] = open;
  if (!first) return undefined;
  const { cover } = inspection(first);
  const under = open.filter((id) => inspection(id).cover === cover);
  const alone = under.length === 1 ? first : under.find(isSafetyInspection);
  if (alone) return lookAt(alone, "due");
  const inspections = under.slice(0, MOST_TOGETHER);
  return { kind: "looks", cover, inspections, more: under.length - inspections.length };
};

/** The task of one inspection, with nothing written down yet. */
export const lookAt = (id: InspectionId, why: TaskOf<"look">["why"]): TaskOf<"look"> => ({
  kind: "look",
  inspection: id,
  why,
  note: "",
  photo: "",
});

const isOutside = (id: InspectionId): boolean => inspection(id).cover === "outside";

/** What is always due, except that a reading of the sequence answers the look of its name. */
const dueLooks = ({ job }: Session): readonly InspectionId[] => {
  const measured = job.sequence.byHand.some(
    ({ work }) => work.kind === "reading" && work.reading === "earth-continuity",
  );
  const due = alwaysDue(mechanismsOf(fittedOf(job.timeline.profile)));
  return due.filter((id) => !(measured && id === "earth-continuity"));
};

/** The earth is measured instead of looked at. */
const isAnswered = ({ view }: Session, id: InspectionId): boolean =>
  id === "earth-continuity"
    ? view.readings.some(({ reading }) => reading === id)
    : view.inspected.some((one) => one.inspection === id);

/** Bad, and since then something was repaired or cleaned that it tells of; in the order in which they were looked at first. */
const toBeLookedAtAgain = (session: Session): readonly InspectionId[] => {
  const told = standingOnly(session.told);
  const latest = new Map(
    told.flatMap((body, at) => (body.kind === "inspected" ? [[body.inspection, at] as const] : [])),
  );
  return [...latest].flatMap(([id, at]) => (isBad(told[at]) && isCuredIn(told.slice(at), id) ? [id] : []));
};

const isBad = (body: EventBody | undefined): boolean => body?.kind === "inspected" && body.answer === "bad";

const isCuredIn = (later: readonly EventBody[], look: InspectionId): boolean => {
  const cures = curesOf(look);
  return later.some((body) => {
    if (body.kind === "repaired") return body.what === "something-else" || cures.includes(body.fault);
    return body.kind === "cleaned" && body.done === "done" && looksAfter(body.cleaning).includes(look);
  });
};

/** What confirms the faults that are as good as certain, then what the fault model would look at next; only what can be looked at while it is isolated. */
const proposedLook = (session: Session): InspectionId | DiagnosisFirst | undefined => {
  if (!isSuspect(session) || proposedInVain(session) >= MOST_IN_VAIN) return undefined;
  const diagnosis = diagnosisNow(session);
  if (!diagnosis) return DIAGNOSIS_FIRST;
  const { ranking, advice } = diagnosis;
  const certain = ranking.faults.flatMap((one) =>
    one.kind === "fault" && one.probability >= CERTAIN ? [bestLookAt(knownFault(one.id))] : [],
  );
  const offers = advice.kind === "offers" ? advice.offers : [];
  const looks = offers.flatMap((offer) => (offer.kind === "inspection" ? [offer.inspection] : []));
  return [...certain, ...looks].find((id) => !wantsPower(id) && !isAnswered(session, id));
};

/** A press that nobody could put a name to proposes nothing, and what was found and repaired since then is answered by its retest. */
const isSuspect = ({ told }: Session): boolean => {
  const standing = standingOnly(told);
  const repaired = standing.findLastIndex(({ kind }) => kind === "repaired");
  return standing
    .slice(repaired + 1)
    .some(
      (body) =>
        (body.kind === "step-judged" &&
          (body.result === "fail" || (body.result === "unsure" && body.symptoms.length > 0))) ||
        (body.kind === "inspected" && body.answer === "bad"),
    );
};

/** After how many good inspections in a row, on top of what is due, the fault model has no better idea. Judgement. */
const MOST_IN_VAIN = 6;
const proposedInVain = (session: Session): number => {
  const looks = session.view.inspected;
  const due = dueLooks(session);
  return looks
    .slice(looks.findLastIndex(({ answer }) => answer === "bad") + 1)
    .filter(({ inspection: id }) => !due.includes(id)).length;
};

const CERTAIN = 0.9;
/**
 * Whether a step failed or was unsure, or an inspection was bad, among the events from index `since` on, counted from 0.
 */
export const somethingWrong = ({ told }: Session, since = 0): boolean =>
  standingOnly(told.slice(since)).some(
    (body) =>
      (body.kind === "step-judged" && (body.result === "fail" || body.result === "unsure")) ||
      (body.kind === "inspected" && body.answer === "bad"),
  );
