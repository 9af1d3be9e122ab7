import { problemAt } from "../../../domain/problem/document.ts";
import { byPlace, type Doubt } from "../../../domain/problem/problem.ts";
import type { ReadProfile } from "../parse.ts";
import {
  commandsAlike,
  indexWithoutAngle,
  levelsWithoutBand,
  resetTooShort,
  shutterWithoutClosed,
  shutterWithoutOpen,
  strobeTooFast,
  strobeWithoutSpeed,
  turnTooFast,
  turnWithoutSpeed,
} from "./of-bands.ts";
import {
  currentTooHigh,
  lagMissing,
  lampTimesMissing,
  milliseconds,
  moveTimeMissing,
  powerUpTooShort,
  tooQuick,
} from "./of-times.ts";
import {
  degreesTooFew,
  degreesTooMany,
  focusWithoutSharp,
  partnerMissing,
  percentAsShare,
  zeroAtAnEnd,
  zoomAngle,
} from "./of-travel.ts";
import {
  firstPositionLate,
  positionNamesAlike,
  positionsUneven,
  rotationWithoutCarrier,
  wheelKindOdd,
  wheelWithoutOpen,
} from "./of-wheels.ts";
import {
  fineSlotFar,
  fineSlotFirst,
  nameNotFile,
  restLeftUnsaid,
  restNotDark,
  restOnACommand,
  slotsWithoutFunction,
  titleSaysOther,
} from "./of-whole.ts";
import type { ProfileRule } from "./rule.ts";

/** What is doubtful in a profile, first in the file first. What its own `allow` names with a reason is left out. */
export const lint = (read: ReadProfile): readonly Doubt[] => {
  const found = PROFILE_RULES.map((rule) => ({ rule, findings: rule.find(read) }));
  const allowed = Object.keys(read.written.allow ?? {});
  const doubts = found
    .filter(({ rule }) => !allowed.includes(rule.name))
    .flatMap(({ rule, findings }) =>
      findings.map(
        ({ path, at, message, instead }): Doubt => ({
          rule: rule.name,
          why: rule.why,
          problem: problemAt(read.file, path, { message, hint: instead, at }),
        }),
      ),
    );
  const idle = allowed.filter((name) =>
    found.some(({ rule, findings }) => rule.name === name && findings.length === 0),
  );
  return inOrder([...doubts, ...idle.map((name) => idleException(read, name))]);
};

const idleException = ({ file }: ReadProfile, name: string): Doubt => ({
  rule: "allow",
  why: "An exception that is no longer needed hides the next mistake of its kind.",
  problem: problemAt(file, ["allow", name], {
    message: `nothing in this profile needs to be allowed by "${name}"`,
    hint: "leave the line out",
    at: "key",
  }),
});

const inOrder = (doubts: readonly Doubt[]): readonly Doubt[] =>
  byPlace(doubts.map(({ problem }) => problem)).flatMap(
    (problem) => doubts.find((doubt) => doubt.problem === problem) ?? [],
  );

/** Everything a profile is looked at for, in the order of the names. */
export const PROFILE_RULES: readonly ProfileRule[] = [
  slotsWithoutFunction,
  fineSlotFar,
  fineSlotFirst,
  shutterWithoutOpen,
  shutterWithoutClosed,
  levelsWithoutBand,
  strobeWithoutSpeed,
  strobeTooFast,
  turnWithoutSpeed,
  turnTooFast,
  indexWithoutAngle,
  degreesTooMany,
  degreesTooFew,
  zeroAtAnEnd,
  zoomAngle,
  percentAsShare,
  milliseconds,
  tooQuick,
  lagMissing,
  moveTimeMissing,
  lampTimesMissing,
  powerUpTooShort,
  resetTooShort,
  commandsAlike,
  positionNamesAlike,
  wheelWithoutOpen,
  wheelKindOdd,
  positionsUneven,
  firstPositionLate,
  restNotDark,
  restLeftUnsaid,
  restOnACommand,
  focusWithoutSharp,
  rotationWithoutCarrier,
  partnerMissing,
  titleSaysOther,
  nameNotFile,
  currentTooHigh,
];
