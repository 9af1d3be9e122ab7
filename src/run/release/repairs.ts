import { type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import type { Fitted } from "../../diagnosis/model/places.ts";
import { AXIS_FUNCTIONS, type FunctionId } from "../../domain/trade/functions.ts";
import type { CoverId } from "../../domain/trade/hold-points.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { BodyOf } from "../events/event.ts";
import { eventsIn, type History, type Moment } from "./history.ts";
import { looksIn } from "./look-facts.ts";

/** What a repair has disturbed: all of it is to be tested again. Common practice, no source. */
export type Disturbed = readonly MechanismId[] | "everything";

/** Behind every cover something is touched whatever was repaired there: plugs, ribbons, the loom. */
const BEHIND: Readonly<Record<CoverId, readonly MechanismId[]>> = {
  outside: [],
  panel: [],
  base: ["control", "power-supply"],
  yoke: ["yoke-loom", "pan-drive", "tilt-drive"],
  head: ["control"],
  module: ["control", "optics"],
};

/**
 * What a repair affects: the repaired mechanism, what its repair touches, and what lies behind the same cover.
 * Nobody knows what "something else" touched.
 */
export const disturbedBy = (mended: FaultId | "something-else"): Disturbed => {
  if (mended === "something-else") return "everything";
  const { retest, mechanism, cover } = knownFault(mended);
  return retest === "everything" ? "everything" : [...new Set([mechanism, ...retest, ...BEHIND[cover]])];
};

/** The fault that was repaired, or that it was something else. */
export const mendedIn = (repair: BodyOf<"repaired">): FaultId | "something-else" =>
  repair.what === "fault" ? repair.fault : "something-else";

/** A driven step, as far as it says what it tests. */
export interface Tested {
  readonly routine: RoutineId;
  /** Empty: the fixture as a whole. */
  readonly functions: readonly FunctionId[];
}

interface ShownBy {
  readonly by: readonly RoutineId[];
  /** Only where one of these moves; any step will do without. */
  readonly moving?: readonly FunctionId[];
}

/** What has no function of its own shows in these steps. */
const SHOWN: Readonly<Partial<Record<MechanismId, ShownBy>>> = {
  "yoke-loom": { by: ["sweep", "short-sweep", "shake", "soak"], moving: AXIS_FUNCTIONS },
  chassis: { by: ["sweep", "snap", "shake", "soak"], moving: AXIS_FUNCTIONS },
  control: { by: ["identify", "power-up", "home", "return", "shake"] },
  "power-supply": { by: ["power-up", "home", "soak"] },
  "light-engine": { by: ["power-up", "hold", "soak"] },
  optics: { by: ["hold"], moving: ["Focus1", "Zoom", "Dimmer"] },
  cooling: { by: ["soak"] },
};

/** Whether a step would show if the mechanism is in order. */
export const stepShows = (step: Tested, mechanism: MechanismId, fitted: readonly Fitted[]): boolean => {
  const moved = fitted.filter(({ function: id }) => step.functions.includes(id));
  if (moved.some((one) => one.mechanism === mechanism)) return true;
  const shown = SHOWN[mechanism];
  if (!shown?.by.includes(step.routine)) return false;
  return shown.moving === undefined || step.functions.some((id) => shown.moving?.includes(id));
};

/** Whether a step must be passed again after this repair. */
export const isDisturbed = (step: Tested, disturbed: Disturbed, fitted: readonly Fitted[]): boolean =>
  disturbed === "everything" || disturbed.some((mechanism) => stepShows(step, mechanism, fitted));

/**
 * Finds that only name what had been repaired just before: repaired first and named afterwards, with nothing seen to be wrong
 * in between. Each repair explains one find.
 */
export const explainedFinds = (history: History): ReadonlySet<Moment> => {
  const used = new Set<Moment>();
  const explained = new Set<Moment>();
  for (const { at, body } of eventsIn(history, "found")) {
    if (body.what !== "fault") continue;
    const repair = eventsIn(history, "repaired").findLast(
      (one) => one.at < at && !used.has(one.at) && one.body.what === "fault" && one.body.fault === body.fault,
    );
    const namedBefore = eventsIn(history, "found").some(
      (one) => repair && one.at < repair.at && one.body.what === "fault" && one.body.fault === body.fault,
    );
    if (!repair || namedBefore || isWrongBetween(history, repair.at, at)) continue;
    used.add(repair.at);
    explained.add(at);
  }
  return explained;
};

const isWrongBetween = (history: History, from: Moment, to: Moment): boolean =>
  looksIn(history).some(({ at, answer }) => at > from && at < to && answer === "bad") ||
  eventsIn(history, "step-judged").some(
    ({ at, body }) => at > from && at < to && (body.result === "fail" || body.result === "unsure"),
  );
