import { totalOf } from "../../diagnosis/places/likelihood.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { wantsPower } from "../../domain/trade/inspections.ts";
import { lastPressed, placesPresses, watchesOf } from "../events/placed.ts";
import { addedTests } from "../events/step-results.ts";
import { isAdded } from "../events/view.ts";
import type { Diagnosis, Findings, PlaceFound } from "../machine/diagnose.ts";
import { withEffects } from "../machine/running.ts";
import { coversOff } from "./by-hand/holds.ts";
import type { Change } from "./change.ts";
import { type AdviceGround, type Offered, ownTestIn } from "./offered.ts";
import { type AfterDiagnosis, type DiagnosedFrom, type Placed, questionOf, type Session } from "./session.ts";

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

/** How many tests are added to a run at most; after that it is time to open the fixture. */
const MOST_ADDED = 8;

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

/**
 * Whether the presses of a step, or of a step that was added to tell more, are worth placing. Quick: nothing is worked out.
 * `index` is the step's place in the run, from 0.
 */
export const isWorthPlacing = (session: Session, index: number): boolean => {
  const { job, view } = session;
  const step = view.steps[index];
  const [id] = step?.functions ?? [];
  if (!step || !id || !placesPresses(step, id)) return false;
  const last = lastPressed(view).get(id);
  if (isAdded(view, index)) return last !== undefined;
  return last === index && totalOf(watchesOf(view, job.timeline.profile, id)).presses >= WORTH_PLACING;
};

/** One press alone says nothing of places; what would tell more is offered when the plan is through. */
const WORTH_PLACING = 2;
const MOST_FAULTS = 3;

/**
 * Where in the travel it was pressed, what it may be now, and what would tell more. Undefined where the presses of this step
 * cannot be placed.
 */
export const placedAt = ({ view }: Session, index: number, { places, ranking }: Diagnosis): Placed | undefined => {
  const [id] = view.steps[index]?.functions ?? [];
  const found = places.find((one) => one.function === id);
  if (!found) return undefined;
  return {
    kind: "placed",
    index,
    function: found.function,
    assessment: found.assessment,
    tests: addedTests(view).length >= MOST_ADDED ? [] : found.tests,
    faults: ranking.faults.slice(0, MOST_FAULTS),
  };
};
