import { fittedOf } from "../../data/profile/profile.ts";
import { whatNext } from "../../diagnosis/model/next.ts";
import { answersOf, observationsOf } from "../events/observations.ts";
import { placedIn } from "../events/placed.ts";
import { addStep, MOST_ADDED } from "./adding.ts";
import { type Change, stay } from "./change.ts";
import type { Stamped } from "./input.ts";
import { knownIn } from "./job.ts";
import type { Next } from "./next.ts";
import type { Offered } from "./offered.ts";
import { testsAfter } from "./placing.ts";
import type { Session, Stage } from "./session.ts";

/** What could still tell more, when all planned steps are answered and something was wrong: offered only where a test without opening is among it. */
export const offersNow = (session: Session): readonly Offered[] => {
  const { job, view } = session;
  const wrong = view.steps.some(({ judged }) => judged?.result === "fail" || judged?.result === "unsure");
  if (!wrong || view.added.length >= MOST_ADDED) return [];
  const { profile } = job.timeline;
  const advice = whatNext(
    fittedOf(profile),
    observationsOf(view, profile, knownIn(session)),
    answersOf(view),
    [],
    job.learned,
  );
  const offers = [...(advice.kind === "offers" ? advice.offers : []), ...unsettled(session)];
  return offers.some(({ kind }) => kind !== "inspection") ? offers : [];
};

const MOST_UNSETTLED = 2;
/** For every function of which it cannot be said yet where it happens, the test that tells most. */
const unsettled = (session: Session): readonly Offered[] =>
  placedIn(session.view, session.job.timeline.profile, knownIn(session))
    .filter(({ assessment }) => assessment.settled === undefined)
    .slice(0, MOST_UNSETTLED)
    .flatMap((placed) =>
      testsAfter(session, placed.step, placed)
        .slice(0, 1)
        .map((test) => ({ kind: "follow-up" as const, function: placed.function, test })),
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
