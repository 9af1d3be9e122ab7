import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
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
  /** The looks that come out bad while these are set. */
  readonly found: (left: readonly string[]) => ReadonlySet<InspectionId>;
  /** Another fixture of the same build in its place, with only these faults. */
  readonly refit: (left: readonly string[]) => void;
}

/** Hands at a simulated fixture that has these faults. */
export const simHands = (set: readonly string[], fixture: InReach): SimHands => {
  let left = set;
  let found = fixture.found(left);
  const mend = (fault: FaultId): void => {
    left = withoutMended(left, fault);
    found = fixture.found(left);
    fixture.refit(left);
  };
  return {
    look: (id) => (found.has(id) ? "bad" : "good"),
    name: (choices) => choices.find((choice) => left.some((one) => RIGHT_ANSWERS[one]?.includes(choice))),
    did: (deed) => {
      if (deed.kind === "mains-on") fixture.mains("on");
      else if (deed.kind === "mains-off") fixture.mains("off");
      else if (deed.kind === "mended") mend(deed.fault);
    },
  };
};

/** The faults that are left in a simulated fixture after a repair. */
export const withoutMended = (set: readonly string[], fault: FaultId): readonly string[] =>
  set.filter((id) => !RIGHT_ANSWERS[id]?.includes(fault));
