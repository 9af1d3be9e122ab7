import { addStep, MOST_ADDED } from "./adding.ts";
import { type Change, stay } from "./change.ts";
import type { Diagnosis, PlaceFound } from "./diagnose.ts";
import type { Stamped } from "./input.ts";
import type { Next } from "./next.ts";
import type { Offered } from "./offered.ts";
import type { Session, Stage } from "./session.ts";

/** Whether it is asked what could still tell more: something was wrong, and there is room for tests. */
export const wantsAdvice = ({ view, advised }: Session): boolean =>
  !advised &&
  view.added.length < MOST_ADDED &&
  view.steps.some(({ judged }) => judged?.result === "fail" || judged?.result === "unsure");

/** What could still tell more, when all planned steps are answered: offered only where a test without opening is among it. */
export const offersIn = ({ advice, places }: Diagnosis): readonly Offered[] => {
  const offers = [...(advice.kind === "offers" ? advice.offers : []), ...unsettled(places)];
  return offers.some(({ kind }) => kind !== "inspection") ? offers : [];
};

const MOST_UNSETTLED = 2;
/** For every function of which it cannot be said yet where it happens, the test that tells most. */
const unsettled = (places: readonly PlaceFound[]): readonly Offered[] =>
  places
    .filter(({ assessment }) => assessment.settled === undefined)
    .slice(0, MOST_UNSETTLED)
    .flatMap(({ function: id, tests }) =>
      tests.slice(0, 1).map((test) => ({ kind: "follow-up" as const, function: id, test })),
    );

/** One key runs an offered test at once, as a step of its own at the end of the run. */
export const choose = (
  session: Session,
  { offers }: Extract<Stage, { kind: "what-next" }>,
  input: Extract<Stamped, { kind: "choose" }>,
  go: (session: Session, next: Next) => Change,
): Change => {
  const offer = offers[input.offer];
  if (!offer || offer.kind === "inspection") return stay(session);
  const last = session.job.timeline.steps.findLastIndex(({ fitted }) => fitted);
  return addStep(session, wantedBy(offer), last < 0 ? undefined : last, go);
};

const wantedBy = (offer: Exclude<Offered, { kind: "inspection" }>) => {
  if (offer.kind === "follow-up") return offer.test.step;
  return { routine: offer.routine, functions: offer.function === undefined ? [] : [offer.function], options: {} };
};
