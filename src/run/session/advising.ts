import type { FunctionId } from "../../domain/trade/functions.ts";
import { wantsPower } from "../../domain/trade/inspections.ts";
import { addedTests } from "../events/step-results.ts";
import type { Diagnosis, PlaceFound } from "./diagnose.ts";
import type { AdviceGround, Offered } from "./offered.ts";
import { ownTestIn } from "./own-test.ts";
import type { Session } from "./session.ts";

/** How many tests are added to a run at most; after that it is time to open the fixture. */
export const MOST_ADDED = 8;

/** Whether it is asked what could still tell more: something was wrong, or a whole check showed nothing; and there is room for tests. */
export const wantsAdvice = (session: Session): boolean =>
  !session.advised &&
  addedTests(session.view).length < MOST_ADDED &&
  (session.view.steps.some(({ judged }) => judged?.result === "fail" || judged?.result === "unsure") ||
    isQuietCheck(session));

/** Nothing was reported. Who plays a few functions only, or a repair again, has asked a question of their own. */
const isQuietCheck = ({ job, view }: Session): boolean => {
  const { replays, finishing, rack } = job.opening;
  const isCheck = replays === undefined && finishing === undefined && rack === undefined;
  const watched = view.steps.filter(({ judged }) => judged?.result === "pass").flatMap(({ functions }) => functions);
  const all = [...job.timeline.profile.functions.keys()].filter((id) => !CONTROLS.includes(id));
  return isCheck && all.filter((id) => watched.includes(id)).length >= all.length / 2;
};

const CONTROLS: readonly FunctionId[] = ["Control1", "LampControl", "Fans"];

/** Why something is offered: something was reported, or nothing was found; with what no fault explains. */
export const groundOf = ({ advice, ranking }: Diagnosis): AdviceGround =>
  advice.kind === "nothing-found"
    ? { kind: "nothing-found", unexplained: ranking.unexplained, untried: advice.untried }
    : { kind: "reported", unexplained: ranking.unexplained };

/** What could still tell more, when all planned steps are answered. Unplugged, nothing is looked at that wants power. */
export const offersIn = (session: Session, { advice, places }: Diagnosis): readonly Offered[] => {
  const advised: readonly Offered[] = advice.kind === "offers" || advice.kind === "nothing-found" ? advice.offers : [];
  const isUnplugged = session.holds.includes("unplugged");
  const possible = advised.filter(
    (offer) => !(isUnplugged && offer.kind === "inspection" && wantsPower(offer.inspection)),
  );
  return [...possible, ...unsettled(places), ...(isUnplugged ? [] : ownTests(session))];
};

const MOST_UNSETTLED = 2;
/** The test that tells most, for every function of which it cannot be said yet where it happens. */
const unsettled = (places: readonly PlaceFound[]): readonly Offered[] =>
  places
    .filter(({ assessment }) => assessment.settled === undefined)
    .slice(0, MOST_UNSETTLED)
    .flatMap(({ function: id, tests }) =>
      tests.slice(0, 1).map((test) => ({ kind: "follow-up" as const, function: id, test })),
    );

const MOST_OWN_TESTS = 4;
/** What the fixture has told that it can test itself, and has not yet in this run. */
const ownTests = ({ view }: Session): readonly Offered[] => {
  const done = view.added.map(({ id }) => ownTestIn(id));
  return (view.said.at(-1)?.self_tests ?? [])
    .filter(({ number }) => !done.includes(number))
    .slice(0, MOST_OWN_TESTS)
    .map(({ number, words }) => ({ kind: "own-test" as const, number, words }));
};
