import { commandsAlike } from "./commands-alike.ts";
import { currentTooHigh } from "./current-too-high.ts";
import { degreesTooFew } from "./degrees-too-few.ts";
import { degreesTooMany } from "./degrees-too-many.ts";
import { fineSlotFar } from "./fine-slot-far.ts";
import { fineSlotFirst } from "./fine-slot-first.ts";
import { firstPositionLate } from "./first-position-late.ts";
import { focusWithoutSharp } from "./focus-without-sharp.ts";
import { indexWithoutAngle } from "./index-without-angle.ts";
import { lagMissing } from "./lag-missing.ts";
import { lampTimesMissing } from "./lamp-times-missing.ts";
import { levelsWithoutBand } from "./levels-without-band.ts";
import { milliseconds } from "./milliseconds.ts";
import { moveTimeMissing } from "./move-time-missing.ts";
import { nameNotFile } from "./name-not-file.ts";
import { partnerMissing } from "./partner-missing.ts";
import { percentAsShare } from "./percent-as-share.ts";
import { positionNamesAlike } from "./position-names-alike.ts";
import { positionsUneven } from "./positions-uneven.ts";
import { powerUpTooShort } from "./power-up-too-short.ts";
import { resetTooShort } from "./reset-too-short.ts";
import { restLeftUnsaid } from "./rest-left-unsaid.ts";
import { restNotDark } from "./rest-not-dark.ts";
import { restOnACommand } from "./rest-on-a-command.ts";
import { rotationWithoutCarrier } from "./rotation-without-carrier.ts";
import type { ProfileRule } from "./rule.ts";
import { shutterWithoutClosed } from "./shutter-without-closed.ts";
import { shutterWithoutOpen } from "./shutter-without-open.ts";
import { slotsWithoutFunction } from "./slots-without-function.ts";
import { strobeTooFast } from "./strobe-too-fast.ts";
import { strobeWithoutSpeed } from "./strobe-without-speed.ts";
import { titleSaysOther } from "./title-says-other.ts";
import { tooQuick } from "./too-quick.ts";
import { turnTooFast } from "./turn-too-fast.ts";
import { turnWithoutSpeed } from "./turn-without-speed.ts";
import { wheelKindOdd } from "./wheel-kind-odd.ts";
import { wheelWithoutOpen } from "./wheel-without-open.ts";
import { zeroAtAnEnd } from "./zero-at-an-end.ts";
import { zoomAngle } from "./zoom-angle.ts";

/** Everything a profile is looked at for, in the order of the names. */
export const RULES: readonly ProfileRule[] = [
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
