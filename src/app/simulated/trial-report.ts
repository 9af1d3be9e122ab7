import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { FIXED_TEMPER } from "../../diagnosis/model/claims.ts";
import { evidenceFrom } from "../../diagnosis/model/evidence.ts";
import { FAULT_IDS, isFault, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { marginals } from "../../diagnosis/model/layers.ts";
import { networkFor } from "../../diagnosis/model/network.ts";
import { mean } from "../../domain/statistics/sample.ts";
import { NEVER_SIMULATED, RIGHT_ANSWERS } from "./right-answers.ts";
import { plannedOnly, type TriedCase } from "./trial-case.ts";
import { learnedIn } from "./trial-learned.ts";
import {
  areAllWithinThree,
  calibrationOf,
  claimsIn,
  hitsOf,
  isClaimedSurely,
  isNamedClean,
  isSettledWrongly,
  isWithin,
  minutesByHand,
  minutesUntil,
  namedIn,
  plainRate,
} from "./trial-rates.ts";

/** All that a trial says, from its cases alone. Simulated throughout. */
export type TrialReport = ReturnType<typeof reportOf>;

/** All figures of a trial as data. */
export const reportOf = (cases: readonly TriedCase[], profile: Profile) => {
  const before = cases.map((one) => ({ ...one, ranked: one.rankedBefore, inspected: [], closedAfter: [] }));
  const of = (kind: TriedCase["kind"]) => before.filter((one) => one.kind === kind);
  const ones = of("one");
  return {
    simulated: true,
    cases: cases.length,
    runsOfAFault: ones.length / Math.max(1, new Set(ones.map(({ set }) => set.join())).size),
    starter: {
      ...hitsOf(ones),
      aside: hitsOf(ones.filter(({ aside }) => aside)),
      others: hitsOf(ones.filter(({ aside }) => !aside)),
    },
    withFollowUps: withFollowUps(cases),
    learned: learnedIn(before, profile),
    two: {
      oneOfThemFirst: plainRate(of("two"), (one) => isWithin(one, 1)),
      bothInFirstThree: plainRate(of("two"), areAllWithinThree),
    },
    onNoList: { claimedSurely: plainRate(of("strange"), isClaimedSurely) },
    clean: {
      namedClean: plainRate(of("clean"), isNamedClean),
      falselyNamed: plainRate(of("clean"), (one) => !isNamedClean(one)),
    },
    settled: settledIn(cases),
    calibration: calibrationOf(claimsIn(before, FIXED_TEMPER)),
    minutes: {
      watched: mean(cases.map(({ watchedMinutes }) => watchedMinutes)),
      byHand: handMinutes(ones),
      byHandWithFollowUps: handMinutes(cases.filter(({ kind }) => kind === "one")),
      byHandInUsualOrder: handMinutes(ones.map((one) => ({ ...one, ranked: [] }))),
    },
    byMechanism: byMechanism(ones),
    misses: reasonsIn(ones, profile),
    strayAmongRight: plainRate(
      ones.filter((one) => isWithin(one, 1)),
      (one) => hasStray(one, profile),
    ),
    neverSimulated: NEVER_SIMULATED,
  };
};

/** With the tests that were asked for and the inspections, as the cases ended. */
const withFollowUps = (cases: readonly TriedCase[]) => ({
  ...hitsOf(cases.filter(({ kind }) => kind === "one")),
  cleanNamedClean: plainRate(
    cases.filter(({ kind }) => kind === "clean"),
    isNamedClean,
  ),
  added: mean(cases.map(({ tests }) => tests.length)),
  quiet: quietIn(cases),
  inspected: mean(cases.map((one) => one.inspected.length)),
  inspectedMinutes: mean(
    cases.map((one) =>
      minutesUntil(
        [],
        [],
        one.inspected.map(({ inspection: id }) => id),
        one.closedAfter,
      ),
    ),
  ),
  noneOffered: cases.filter(
    ({ followUps, inspected, kind, settled: on }) =>
      kind !== "clean" && followUps + inspected.length === 0 && on.length === 0,
  ).length,
  calibration: calibrationOf(claimsIn(cases, FIXED_TEMPER)),
});

/** How often something was called conclusive that was not there. */
const settledIn = (cases: readonly TriedCase[]) => {
  const settled = cases.filter((one) => one.settled.length > 0);
  return {
    onAFault: plainRate(
      settled.filter((one) => !isNamedClean(one)),
      isSettledWrongly,
    ),
    onNothing: plainRate(settled.filter(isNamedClean), isSettledWrongly),
  };
};

const handMinutes = (cases: readonly TriedCase[]): number =>
  mean(
    cases.map(({ ranked, right: [answers = []], inspected, closedAfter }) =>
      minutesByHand(
        ranked.flatMap(({ id }) => FAULT_IDS.filter((one) => one === id)),
        FAULT_IDS.filter((id) => answers.includes(id)),
        inspected.map((one) => one.inspection),
        closedAfter,
      ),
    ),
  );

const byMechanism = (ones: readonly TriedCase[]) => {
  const mechanismIn = ({ right: [answers = []] }: TriedCase) =>
    knownFault(answers.find(isFault) ?? "lens-grime").mechanism;
  return [...new Set(ones.map(mechanismIn))].map((mechanism) => ({
    mechanism,
    ...hitsOf(ones.filter((one) => mechanismIn(one) === mechanism)),
  }));
};

/** Tests that were offered although nothing was reported: how often something was reported in them then, where something was set and where not. */
const quietIn = (cases: readonly TriedCase[]) => {
  const quiet = cases.filter((one) => one.quiet && one.tests.length > 0);
  const isReported = ({ tests }: TriedCase) => tests.some(({ reported }) => reported);
  const names = [...new Set(quiet.flatMap(({ tests }) => tests.map(({ name }) => name)))].sort();
  const isSet = ({ kind }: TriedCase) => kind !== "clean";
  return {
    broughtToLight: plainRate(quiet.filter(isSet), isReported),
    reportedOfClean: plainRate(
      quiet.filter((one) => !isSet(one)),
      isReported,
    ),
    byTest: names.map((name) => {
      const run = quiet.filter(isSet).flatMap(({ tests }) => tests.filter((test) => test.name === name));
      return { name, of: run.length, reported: run.filter(({ reported }) => reported).length };
    }),
  };
};

/** Why the right answer did not stand first. Faults that are set aside are counted and not named: whoever works on the model reads this. */
const reasonsIn = (ones: readonly TriedCase[], profile: Profile) => {
  const simulated = new Set<string>(Object.values(RIGHT_ANSWERS).flat());
  const misses = ones
    .filter((one) => !isWithin(one, 1))
    .map((one) => {
      const { present } = evidenceFrom(fittedOf(profile), plannedOnly(one), []).evidence;
      const beatenBy = namedIn(one)[0]?.id ?? "";
      return {
        set: one.aside ? "one set aside" : `${one.set[0]} (${beatenBy})`,
        why: whyOf(present.length > 0, !hasStray(one, profile), simulated.has(beatenBy)),
      };
    });
  return [...new Set(misses.map(({ why }) => why))].map((why) => {
    const own = misses.filter((one) => one.why === why);
    return {
      why,
      of: own.length,
      examples: [...new Set(own.map(({ set }) => set))].slice(0, 6),
    };
  });
};

/** Something was reported that no right answer has a link to. */
const hasStray = (one: TriedCase, profile: Profile): boolean => {
  const fitted = fittedOf(profile);
  const { present } = evidenceFrom(fitted, plannedOnly(one), []).evidence;
  const [answers = []] = one.right;
  const shown = networkFor(fitted)
    .faults.filter(({ id }) => answers.includes(id))
    .map(marginals);
  return !shown.some((links) => present.every((finding) => (links.get(finding) ?? 0) > 0));
};

const whyOf = (isReported: boolean, isLinked: boolean, isSimulated: boolean): string => {
  if (!isReported) return "nothing was reported";
  if (!isLinked) return "something reported has no link to it";
  return isSimulated
    ? "another fault that was simulated explains it as well or better"
    : "beaten by a fault that is never simulated";
};
