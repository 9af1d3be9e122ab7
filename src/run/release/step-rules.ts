import { knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { type Fitted, mechanismsOf } from "../../diagnosis/model/places.ts";
import { type FunctionId, functionWords } from "../../domain/trade/functions.ts";
import { MECHANISMS } from "../../domain/trade/mechanisms.ts";
import { eventsIn, type History, type Moment, NEVER } from "./history.ts";
import { type Disturbed, disturbedBy, explainedFinds, isDisturbed, mendedIn, stepShows } from "./repairs.ts";
import { alike, type StepFact, stepFacts } from "./step-facts.ts";

/** Steps that were planned and never passed, nor any step like them. */
export const untestedSteps = (history: History): readonly string[] => {
  const facts = stepFacts(history);
  const untested = facts.filter((step) => step.failed === NEVER && passedAlike(facts, step) === NEVER);
  return [...new Set(untested.map(({ words }) => `not tested: ${words}`))];
};

/** What no sequence drives by itself. */
const NOT_DRIVEN: readonly FunctionId[] = ["Control1", "LampControl", "Fans"];

/** Functions of the fixture that moved in no step that passed. */
export const untestedFunctions = (history: History, fitted: readonly Fitted[]): readonly string[] => {
  const passed = stepFacts(history).filter((step) => step.passed !== NEVER);
  const moved = new Set(passed.flatMap(({ functions }) => functions));
  return fitted
    .filter(({ function: id }) => !NOT_DRIVEN.includes(id) && !moved.has(id))
    .map(({ function: id }) => `no test passed of: ${functionWords(id)}`);
};

/**
 * Movements that failed, or of which nobody was sure, or that were pressed in with nobody asked about it, and that have not passed since:
 * only the very same movement clears it.
 */
export const failedSteps = (history: History): readonly string[] => {
  const failed = stepFacts(history).filter((step) => step.failed > step.passed);
  return [...new Set(failed.map(failedInWords))].map((words) => {
    const count = failed.filter((step) => failedInWords(step) === words).length;
    return `${words}${count > 1 ? ` (${count} movements)` : ""}`;
  });
};

const failedInWords = ({ failed, unasked, trulyFailed, passed, words }: StepFact): string => {
  if (failed === unasked) return `something seen and not described, not passed since: ${words}`;
  return `${trulyFailed > passed ? "failed" : "unsure"}, not passed since: ${words}`;
};

/** Faults that were found and not repaired, or found as something else that nobody repaired. */
export const unfinishedRepairs = (history: History): readonly string[] => {
  const repairs = eventsIn(history, "repaired");
  const explained = explainedFinds(history);
  return eventsIn(history, "found").flatMap(({ at, body }) => {
    if (body.what === "nothing" || explained.has(at)) return [];
    const wanted = body.what === "fault" ? body.fault : "something-else";
    if (repairs.some((repair) => repair.at > at && mendedIn(repair.body) === wanted)) return [];
    return [
      `found, not repaired: ${body.what === "fault" ? knownFault(body.fault).title : body.note || "something else"}`,
    ];
  });
};

/** What repairs have affected and no pass has shown since; also what no step of any run could show. */
export const disturbedSteps = (history: History, fitted: readonly Fitted[]): readonly string[] => {
  const facts = stepFacts(history);
  const words = eventsIn(history, "repaired").flatMap(({ at, body }) => {
    const disturbed = disturbedBy(mendedIn(body));
    return [...unshown(facts, disturbed, fitted), ...unpassed(facts, disturbed, fitted, at)];
  });
  return [...new Set(words)];
};

const unpassed = (facts: readonly StepFact[], disturbed: Disturbed, fitted: readonly Fitted[], at: Moment) =>
  facts
    .filter((step) => isDisturbed(step, disturbed, fitted) && passedAlike(facts, step) < at)
    .map(({ words }) => `affected by a repair, not passed since: ${words}`);

const unshown = (facts: readonly StepFact[], disturbed: Disturbed, fitted: readonly Fitted[]): readonly string[] =>
  disturbed === "everything"
    ? []
    : disturbed
        .filter((mechanism) => mechanismsOf(fitted).has(mechanism))
        .filter((mechanism) => !facts.some((step) => stepShows(step, mechanism, fitted)))
        .map((mechanism) => `affected by a repair, and no step tests it: ${MECHANISMS[mechanism]}`);

const passedAlike = (facts: readonly StepFact[], step: StepFact): Moment =>
  Math.max(NEVER, ...facts.filter((other) => alike(step, other)).map(({ passed }) => passed));
