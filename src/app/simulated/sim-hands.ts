import { type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import type { InspectionId } from "../../domain/trade/inspections.ts";
import type { Deed } from "../../run/batch/effect.ts";
import type { Hands } from "../../sim/hands.ts";
import { RIGHT_ANSWERS } from "./right-answers.ts";

/** What hands find and do on a simulated fixture: looks answer from what is still set in it, and a repair takes that out. */
export interface SimHands extends Hands {
  readonly did: (deed: Deed) => void;
}

/** The simulated fixture as hands can reach it. */
export interface InReach {
  readonly mains: (is: "on" | "off") => void;
  /** Another fixture of the same build in its place, with only these faults. */
  readonly refit: (left: readonly string[]) => void;
}

export const simHands = (set: readonly string[], fixture: InReach): SimHands => {
  let left = set;
  const mend = (fault: FaultId): void => {
    left = withoutMended(left, fault);
    fixture.refit(left);
  };
  return {
    look: (id) => (left.some((one) => tells(id, one)) ? "bad" : "good"),
    name: (choices) => choices.find((choice) => left.some((one) => RIGHT_ANSWERS[one]?.includes(choice))),
    did: (deed) => {
      if (deed.kind === "mains-on") fixture.mains("on");
      else if (deed.kind === "mains-off") fixture.mains("off");
      else if (deed.kind === "mended") mend(deed.fault);
    },
  };
};

export const withoutMended = (set: readonly string[], fault: FaultId): readonly string[] =>
  set.filter((id) => !RIGHT_ANSWERS[id]?.includes(fault));

/** At least as often as not, or better than any other look. */
const tells = (look: InspectionId, set: string): boolean => {
  const [answer] = RIGHT_ANSWERS[set] ?? [];
  const found: Readonly<Partial<Record<InspectionId, number>>> = answer === undefined ? {} : knownFault(answer).found;
  const best = Math.max(0, ...Object.values(found));
  return (found[look] ?? 0) >= Math.min(0.5, best) && best > 0;
};
