import { fittedOf, type Profile } from "../../data/profile/profile.ts";
import { CLEAN, caseFrom } from "../../diagnosis/model/case.ts";
import { FIXED_TEMPER, tempered } from "../../diagnosis/model/claims.ts";
import { evidenceFrom } from "../../diagnosis/model/evidence.ts";
import { FAULT_IDS, type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { marginals } from "../../diagnosis/model/layers.ts";
import { learn, wholeTrade } from "../../diagnosis/model/learn.ts";
import { networkFor } from "../../diagnosis/model/network.ts";
import { rank } from "../../diagnosis/model/rank.ts";
import { NOTHING_LEARNED } from "../../diagnosis/model/shop.ts";
import { mean, variance } from "../../domain/statistics/sample.ts";
import { shareOf } from "../../domain/statistics/shares.ts";
import { RIGHT_ANSWERS } from "./right-answers.ts";
import type { TriedCase } from "./trial-case.ts";

/** A share with the interval in which it probably lies, for another draw of faults: faults count, not runs. */
export interface Rate {
  readonly right: number;
  readonly of: number;
  readonly interval95: { readonly low: number; readonly high: number };
}

/** All that a trial says, from its cases alone. Simulated throughout. */
export type TrialReport = ReturnType<typeof reportOf>;

export const reportOf = (cases: readonly TriedCase[], profile: Profile) => {
  const planned = cases.map((one) => ({ ...one, ranked: one.rankedBefore }));
  const of = (kind: TriedCase["kind"]) => planned.filter((one) => one.kind === kind);
  const ones = of("one");
  const followed = cases.filter(({ kind }) => kind === "one");
  const learned = withLearned(cases, profile);
  return {
    simulated: true,
    cases: cases.length,
    starter: {
      first: byFault(ones, (one) => isWithin(one, 1)),
      firstThree: byFault(ones, (one) => isWithin(one, 3)),
      aside: {
        first: byFault(
          ones.filter(({ aside }) => aside),
          (one) => isWithin(one, 1),
        ),
        firstThree: byFault(
          ones.filter(({ aside }) => aside),
          (one) => isWithin(one, 3),
        ),
      },
      others: {
        first: byFault(
          ones.filter(({ aside }) => !aside),
          (one) => isWithin(one, 1),
        ),
        firstThree: byFault(
          ones.filter(({ aside }) => !aside),
          (one) => isWithin(one, 3),
        ),
      },
    },
    withFollowUps: {
      first: byFault(followed, (one) => isWithin(one, 1)),
      firstThree: byFault(followed, (one) => isWithin(one, 3)),
      cleanNamedClean: plainRate(
        cases.filter(({ kind }) => kind === "clean"),
        isNamedClean,
      ),
    },
    learned: {
      first: byFault(
        learned.filter(({ kind }) => kind === "one"),
        (one) => isWithin(one, 1),
      ),
      firstThree: byFault(
        learned.filter(({ kind }) => kind === "one"),
        (one) => isWithin(one, 3),
      ),
      clean: plainRate(
        learned.filter(({ kind }) => kind === "clean"),
        isNamedClean,
      ),
    },
    two: {
      oneOfThemFirst: plainRate(of("two"), (one) => isWithin(one, 1)),
      bothInFirstThree: plainRate(of("two"), bothWithinThree),
    },
    onNoList: {
      claimedSurely: plainRate(
        of("strange"),
        ({ ranked: [first] }) =>
          first !== undefined &&
          first.id !== "nothing-broken" &&
          tempered(first.probability, FIXED_TEMPER.power) >= 0.75,
      ),
    },
    clean: {
      namedClean: plainRate(of("clean"), isNamedClean),
      falselyNamed: plainRate(of("clean"), (one) => !isNamedClean(one)),
    },
    settled: {
      wrong: plainRate(
        cases.filter(({ settled }) => settled.length > 0),
        isSettledWrongly,
      ),
    },
    calibration: calibrationOf(cases),
    minutes: {
      watched: mean(cases.map(({ watchedMinutes }) => watchedMinutes)),
      byHandAsRanked: mean(ones.flatMap(({ byHand }) => (byHand ? [byHand.ranked] : []))),
      byHandInUsualOrder: mean(ones.flatMap(({ byHand }) => (byHand ? [byHand.usual] : []))),
      followUps: mean(cases.map(({ followUps }) => followUps)),
    },
    byMechanism: byMechanism(ones),
    misses: reasonsIn(ones, profile),
    neverSimulated: FAULT_IDS.filter((id) => !Object.values(RIGHT_ANSWERS).some((answers) => answers.includes(id))),
  };
};

const named = ({ ranked }: TriedCase) => ranked.filter(({ id }) => id !== "nothing-broken");

/** "Nothing broken" is an answer only where nothing was set: a fault that is named below it has still been named. */
const isWithin = (one: TriedCase, places: number): boolean =>
  named(one)
    .slice(0, places)
    .some(({ id }) => one.right.some((answers) => answers.includes(id)));
const bothWithinThree = (one: TriedCase): boolean =>
  one.right.every((answers) =>
    named(one)
      .slice(0, 3)
      .some(({ id }) => answers.includes(id)),
  );
const isNamedClean = ({ ranked: [first] }: TriedCase): boolean => first?.id === "nothing-broken";
const isSettledWrongly = ({ kind, settled, right }: TriedCase): boolean =>
  settled.some((id) => (id === "nothing-broken" ? kind !== "clean" : !right.some((answers) => answers.includes(id))));

const plainRate = (cases: readonly TriedCase[], isRight: (one: TriedCase) => boolean): Rate => {
  const right = cases.filter(isRight).length;
  const { low, high } = shareOf(right, cases.length);
  return { right, of: cases.length, interval95: { low, high } };
};

const byFault = (cases: readonly TriedCase[], isRight: (one: TriedCase) => boolean): Rate => {
  const faults = [...new Set(cases.map(({ set }) => set.join()))];
  const shares = faults.map((fault) => {
    const own = cases.filter(({ set }) => set.join() === fault);
    return own.filter(isRight).length / own.length;
  });
  const right = cases.filter(isRight).length;
  if (shares.length < 2) return plainRate(cases, isRight);
  const half = 1.96 * Math.sqrt(variance(shares) / shares.length);
  const middle = mean(shares);
  return { right, of: cases.length, interval95: { low: Math.max(0, middle - half), high: Math.min(1, middle + half) } };
};

/** Of what stood first, how sure it was said to be and how often it was right. */
const calibrationOf = (cases: readonly TriedCase[]) =>
  BANDS.map(([from, to]) => {
    const claims = cases.flatMap((one) => {
      const [first] = one.ranked;
      return first
        ? [{ claim: tempered(first.probability, FIXED_TEMPER.power), right: isRightFirst(one, first.id) }]
        : [];
    });
    const within = claims.filter(({ claim }) => claim >= from && claim < to);
    return {
      from,
      to,
      of: within.length,
      claimed: within.length === 0 ? 0 : mean(within.map(({ claim }) => claim)),
      right: within.filter(({ right }) => right).length,
    };
  });

const BANDS = [
  [0, 0.5],
  [0.5, 0.7],
  [0.7, 0.9],
  [0.9, 1.01],
] as const;

const isRightFirst = ({ kind, right }: TriedCase, id: string): boolean =>
  id === "nothing-broken" ? kind === "clean" : right.some((answers) => answers.includes(id));

const byMechanism = (ones: readonly TriedCase[]) => {
  const mechanismIn = ({ right: [answers] }: TriedCase) =>
    knownFault((answers?.[0] ?? "lens-grime") as FaultId).mechanism;
  return [...new Set(ones.map(mechanismIn))].map((mechanism) => {
    const own = ones.filter((one) => mechanismIn(one) === mechanism);
    return {
      mechanism,
      first: plainRate(own, (one) => isWithin(one, 1)),
      firstThree: plainRate(own, (one) => isWithin(one, 3)),
    };
  });
};

/** Why the right answer did not stand first. */
const reasonsIn = (ones: readonly TriedCase[], profile: Profile) => {
  const fitted = fittedOf(profile);
  const network = networkFor(fitted);
  const links = new Map(network.faults.map((fault) => [fault.id, marginals(fault)]));
  const simulated = new Set<string>(Object.values(RIGHT_ANSWERS).flat());
  const misses = ones
    .filter((one) => !isWithin(one, 1))
    .map((one) => {
      const { present } = evidenceFrom(fitted, one.observations, []).evidence;
      const [answers = []] = one.right;
      const linked = answers.some((id) => present.every((finding) => (links.get(id)?.get(finding) ?? 0) > 0));
      const beatenBy = named(one)[0]?.id ?? "";
      const why =
        present.length === 0
          ? "nothing was reported"
          : !linked
            ? "something reported has no link to it"
            : simulated.has(beatenBy)
              ? "another fault that was simulated explains it as well or better"
              : "beaten by a fault that is never simulated";
      return { set: one.set[0] ?? "", why, first: beatenBy };
    });
  return [...new Set(misses.map(({ why }) => why))].map((why) => {
    const own = misses.filter((one) => one.why === why);
    return {
      why,
      of: own.length,
      examples: [...new Set(own.map(({ set, first }) => `${set} (${first})`))].slice(0, 6),
    };
  });
};

/** The same runs with numbers learned from the confirmed finds of the other half of them. */
const withLearned = (cases: readonly TriedCase[], profile: Profile): readonly TriedCase[] => {
  const fitted = fittedOf(profile);
  const lesson = ({ kind, right, observations }: TriedCase) =>
    kind === "clean"
      ? CLEAN
      : caseFrom(fitted, observations, [], {
          confirmed: right.flatMap(([first]) => (first ? [first as FaultId] : [])),
          cleared: [],
          rest: "unknown",
        });
  const halves = [0, 1].map((half) => cases.filter((_, n) => n % 2 === half));
  return halves.flatMap((half, n) => {
    const others = halves[1 - n] ?? [];
    const learned = others.length === 0 ? NOTHING_LEARNED : learn(wholeTrade(), others.map(lesson));
    return half.map((one) => ({
      ...one,
      ranked: rank(fitted, one.observations, [], learned)
        .faults.slice(0, 8)
        .map(({ id, probability }) => ({ id, probability })),
    }));
  });
};

export const tellTrial = (
  report: TrialReport,
  { profile, sequence }: { readonly profile: string; readonly sequence: string },
): string => {
  const { starter, withFollowUps, learned, two, onNoList, clean, settled, minutes } = report;
  return [
    "SIMULATED: simulated fixtures with tolerances, three simulated watchers, one of them careless.",
    `${profile}, ${sequence}, ${report.cases} runs. 95 % intervals by fault, not by run.`,
    `  right answer first                    ${inWords(starter.first)}`,
    `  right answer in the first three       ${inWords(starter.firstThree)}`,
    `  faults kept aside, first              ${inWords(starter.aside.first)}`,
    `  faults kept aside, first three        ${inWords(starter.aside.firstThree)}`,
    `  the others, first                     ${inWords(starter.others.first)}`,
    `  with the tests added, first           ${inWords(withFollowUps.first)}`,
    `    and in the first three              ${inWords(withFollowUps.firstThree)}`,
    `  with numbers learned from half, first ${inWords(learned.first)}`,
    `    and in the first three              ${inWords(learned.firstThree)}`,
    `  two faults: one of them first         ${inWords(two.oneOfThemFirst)}`,
    `  two faults: both in the first three   ${inWords(two.bothInFirstThree)}`,
    `  on no list, yet a fault claimed surely ${inWords(onNoList.claimedSurely)}`,
    `  clean, named clean                    ${inWords(clean.namedClean)}`,
    `    with learned numbers                ${inWords(learned.clean)}`,
    `  said to be conclusive, and wrong      ${inWords(settled.wrong)}`,
    `  minutes watched ${minutes.watched.toFixed(1)}; by hand ${minutes.byHandAsRanked.toFixed(1)} as ranked, ${minutes.byHandInUsualOrder.toFixed(1)} in the usual order; ${minutes.followUps.toFixed(1)} tests added`,
    "How sure it said to be of its first answer, and how often that was right:",
    ...report.calibration
      .filter(({ of }) => of > 0)
      .map(({ of, claimed, right }) => `  said ${percent(claimed)}  right ${percent(right / of)}  (${of} runs)`),
    "By mechanism, first and in the first three:",
    ...report.byMechanism.map(
      ({ mechanism, first, firstThree }) =>
        `  ${mechanism.padEnd(22)} ${first.right} and ${firstThree.right} of ${first.of}`,
    ),
    "Why the right answer was not first:",
    ...report.misses.map(({ why, of, examples }) => `  ${String(of).padStart(4)}  ${why}: ${examples.join(", ")}`),
    `${report.neverSimulated.length} faults are never a right answer, because nothing simulates them.`,
  ].join("\n");
};

const inWords = ({ right, of, interval95: { low, high } }: Rate): string =>
  `${right} of ${of} (${percent(low)} to ${percent(high)})`;
const percent = (share: number): string => `${Math.round(share * 100)} %`;
