import { fittedOf } from "../../../data/profile/profile.ts";
import type { HandWork } from "../../../data/sequence/sequence.ts";
import { mechanismsOf } from "../../../diagnosis/model/places.ts";
import {
  CLEANING_IDS,
  type CleaningId,
  cleaning,
  cleaningsDue,
  cleaningsOf,
  type DirtId,
  looksAfter,
} from "../../../domain/trade/cleanings.ts";
import { COVERS } from "../../../domain/trade/hold-points.ts";
import type { Session } from "../session.ts";
import { holdDue } from "./holds.ts";
import type { HandTask, TaskOf } from "./task.ts";

/**
 * What is still to be cleaned, on one page, once somebody has said how dirty it came back; undefined when nothing is left.
 */
export const cleanTask = (session: Session, { what }: Extract<HandWork, { kind: "clean" }>): HandTask | undefined => {
  const fitted = cleaningsOf(fittedIn(session));
  const wanted = what === "due" ? fitted : CLEANING_IDS.filter((id) => what.includes(id));
  const cleanings = wanted.filter((id) => !session.view.cleaned.some((done) => done.cleaning === id));
  const [first] = cleanings;
  if (!first) return undefined;
  const dirt = dirtIn(session);
  if (dirt === undefined) return { kind: "dirt" };
  const deepest = cleanings.find((id) => COVERS[cleaning(id).cover].minutes > 0) ?? first;
  const hold = holdDue(session, COVERS[cleaning(deepest).cover].holds);
  if (hold) return hold;
  return cleanings.length === 1
    ? { kind: "clean", cleaning: first, dirt, note: "" }
    : { kind: "cleans", cleanings, dirt };
};

/**
 * How dirty the fixture came back: as somebody said, or, until somebody does, as it came back the last
 * time; undefined where nobody ever said.
 */
export const dirtIn = ({ job, view }: Session): DirtId | undefined => {
  const before = job.past.findLast(({ body }) => body.kind === "dirt-judged")?.body;
  return view.dirt ?? (before?.kind === "dirt-judged" ? before.dirt : undefined);
};

/** Whether something is to be cleaned later, and nobody has said yet in this run how dirty it came back. */
export const isDirtOpen = ({ job, view }: Session): boolean =>
  view.dirt === undefined && job.sequence.byHand.some(({ work }) => work.kind === "clean");

/** What cleaning will take, as far as it can be told before anything is opened. */
export const cleaningAhead = (session: Session): readonly CleaningId[] => {
  const dirt = dirtIn(session);
  return dirt === undefined
    ? []
    : cleaningsDue(fittedIn(session), dirt, (id) => isFilmSeen(session, id)).filter(
        (id) => !session.view.cleaned.some((done) => done.cleaning === id),
      );
};

const fittedIn = ({ job }: Session) => mechanismsOf(fittedOf(job.timeline.profile));

/** Whether a place is wiped, or only looked at by torch because nothing but dust came in. */
export const isWiped = (session: Session, { dirt }: Pick<TaskOf<"cleans">, "dirt">, id: CleaningId): boolean =>
  cleaningsDue(fittedIn(session), dirt, (one) => isFilmSeen(session, one)).includes(id);

const isFilmSeen = ({ view }: Session, id: CleaningId): boolean =>
  looksAfter(id).some((look) => view.inspected.findLast((one) => one.inspection === look)?.answer === "bad");
