import { FAULTS, type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import type { InspectionId } from "../../domain/trade/inspections.ts";
import type { History } from "./history.ts";
import { looksIn } from "./look-facts.ts";
import { eventsIn, lastOf, type Moment, NEVER } from "./moment.ts";

/**
 * Looks whose bad answer is a danger to people: never signed off without the repair of something that this look tells,
 * and a good look after it, whatever else passes and whoever signs. Common practice, no source.
 */
export const DANGERS = {
  "yoke-entry": "insulation worn where the cable enters the yoke",
  "yoke-wires": "bare or scorched conductor in the yoke",
  "earth-continuity": "earth broken between base, yoke and head",
  capacitors: "capacitor in the base bulged",
  "yoke-capacitors": "capacitor in the yoke bulged",
  "head-capacitors": "capacitor in the head bulged",
} as const satisfies Partial<Record<InspectionId, string>>;
export type DangerLook = keyof typeof DANGERS;
export const DANGER_LOOKS = Object.keys(DANGERS) as readonly DangerLook[];

/** The faults of which one must have been mended before this look counts as good again. */
export const curesOf = (look: InspectionId): readonly FaultId[] =>
  FAULTS.filter(({ found }) => look in found).map(({ id }) => id);

/** Dangers that were seen, or confirmed as faults, and were not mended and then looked at with a good answer. */
export const standingDangers = (history: History): readonly string[] => [
  ...new Set([...seen(history), ...confirmed(history)].filter((one) => stands(history, one)).map(({ words }) => words)),
];

interface Danger {
  readonly words: string;
  readonly at: Moment;
  readonly cures: readonly FaultId[];
  /** Any of these, good after the repair, ends it. */
  readonly looks: readonly InspectionId[];
}

const seen = (history: History): readonly Danger[] =>
  looksIn(history).flatMap(({ inspection, answer, at }) => {
    const look = DANGER_LOOKS.find((one) => one === inspection);
    return look && answer === "bad" ? [{ words: DANGERS[look], at, cures: curesOf(look), looks: [look] }] : [];
  });

const confirmed = (history: History): readonly Danger[] =>
  eventsIn(history, "found").flatMap(({ at, body }) => {
    const fault = body.what === "fault" ? knownFault(body.fault) : undefined;
    if (fault?.danger !== "out of service") return [];
    return [{ words: fault.title, at, cures: [fault.id], looks: DANGER_LOOKS.filter((look) => look in fault.found) }];
  });

const stands = (history: History, { at, cures, looks }: Danger): boolean => {
  const mended = lastOf(history, "repaired", (repair) => repair.what === "fault" && cures.includes(repair.fault));
  if (mended === NEVER || mended < at) return true;
  return !looksIn(history).some((one) => looks.includes(one.inspection) && one.answer === "good" && one.at > mended);
};
