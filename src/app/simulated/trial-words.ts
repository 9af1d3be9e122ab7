import type { Temper } from "../../diagnosis/model/claims.ts";
import type { Hits, Rate } from "./trial-rates.ts";
import type { TrialReport } from "./trial-report.ts";

/** What a trial says, as a page to be read. */
export const tellTrial = (
  report: TrialReport,
  { profile, sequence }: { readonly profile: string; readonly sequence: string },
): string =>
  [
    "SIMULATED: simulated fixtures with tolerances, three simulated watchers, one of them careless.",
    `${profile}, ${sequence}, ${report.cases} runs. 95 % intervals by fault, not by run.`,
    ...answers(report),
    ...besides(report),
    ...minutesIn(report),
    "How sure it said to be of its first answer, and how often that was right:",
    ...report.calibration.flatMap(claimLine),
    ...(report.withFollowUps.added + report.withFollowUps.inspected > 0
      ? ["The same after what was offered:", ...report.withFollowUps.calibration.flatMap(claimLine)]
      : []),
    `With learned numbers and a power measured on the finds of the other half (${report.learned.tempers.map(temperWords).join("; ")}):`,
    ...report.learned.calibration.flatMap(claimLine),
    "By mechanism:",
    ...report.byMechanism.map((hits) => hitsLine(hits.mechanism, hits)),
    "Why the right answer was not first:",
    ...report.misses.map(({ why, of, examples }) => `  ${String(of).padStart(4)}  ${why}: ${examples.join(", ")}`),
    `  where it was first, something reported had no link to it in ${inWords(report.strayAmongRight)}`,
    "Never a right answer, because nothing simulates them:",
    ...Object.entries(report.neverSimulated).map(([id, why]) => `  ${id}: ${why}`),
  ].join("\n");

const answers = ({ starter, withFollowUps, learned }: TrialReport): readonly string[] => [
  "Right answer first, and in the first three:",
  hitsLine("all faults", starter),
  hitsLine("faults set aside", starter.aside),
  hitsLine("the others", starter.others),
  ...(withFollowUps.added + withFollowUps.inspected > 0 ? [hitsLine("with what was offered", withFollowUps)] : []),
  hitsLine("learned from other seeds", learned),
];

const besides = ({ two, onNoList, clean, learned, settled, withFollowUps }: TrialReport): readonly string[] => [
  `  two faults: one of them first           ${inWords(two.oneOfThemFirst)}`,
  `  two faults: both in the first three     ${inWords(two.bothInFirstThree)}`,
  `  on no list, yet a fault claimed surely  ${inWords(onNoList.claimedSurely)}`,
  `  clean, named clean                      ${inWords(clean.namedClean)}`,
  `    with learned numbers                  ${inWords(learned.clean)}`,
  `  said to be conclusive, and wrong        ${inWords(settled.onAFault)}`,
  `  nothing reported, yet something set     ${inWords(settled.onNothing)}`,
  `  nothing was offered to                  ${withFollowUps.noneOffered} runs that were not conclusive`,
  ...quietLines(withFollowUps.quiet),
];

/** Nothing where no test was run. */
const quietLines = ({
  broughtToLight,
  reportedOfClean,
  byTest,
}: TrialReport["withFollowUps"]["quiet"]): readonly string[] =>
  broughtToLight.of + reportedOfClean.of === 0
    ? []
    : [
        "  tests offered although nothing was reported:",
        `    something set was reported then       ${inWords(broughtToLight)}`,
        `    of clean fixtures something was       ${inWords(reportedOfClean)}`,
        ...byTest.map(({ name, of, reported }) => `    ${name.padEnd(37)} ${reported} of ${of}`),
      ];

const minutesIn = ({ minutes, withFollowUps }: TrialReport): readonly string[] => [
  `  minutes watched ${minutes.watched.toFixed(1)}, ${withFollowUps.added.toFixed(1)} tests added`,
  `  inspections made ${withFollowUps.inspected.toFixed(1)}, ${withFollowUps.inspectedMinutes.toFixed(1)} minutes with their covers`,
  `  minutes by hand ${minutes.byHand.toFixed(1)} as ranked, ${minutes.byHandWithFollowUps.toFixed(1)} after what was offered, ${minutes.byHandInUsualOrder.toFixed(1)} in the usual order`,
];

const temperWords = ({ power, finds }: Temper): string =>
  finds === 0 ? `${power.toFixed(2)}, fixed: too few finds` : `${power.toFixed(2)} on ${finds} finds`;

const claimLine = ({ of, claimed, right, interval95 }: TrialReport["calibration"][number]): readonly string[] =>
  of === 0
    ? []
    : [
        `  said ${percent(claimed)}  right ${percent(right / of)} (${percent(interval95.low)} to ${percent(interval95.high)})  ${of} runs`,
      ];

const hitsLine = (words: string, { first, firstThree }: Hits): string =>
  `  ${words.padEnd(26)} ${inWords(first).padEnd(30)} ${inWords(firstThree)}`;

const inWords = ({ right, of, interval95: { low, high } }: Rate): string =>
  `${right} of ${of} (${percent(low)} to ${percent(high)})`;
const percent = (share: number): string => `${Math.round(share * 100)} %`;
