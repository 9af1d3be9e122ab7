import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** What carries a function, as its GDTF attribute says (DIN SPEC 15800). */
const CARRIED_BY: Partial<Record<FunctionId, readonly WheelKind[]>> = {
  Color1: ["colour"],
  Color2: ["colour"],
  Gobo1: ["fixed", "rotating"],
  Gobo2: ["fixed", "rotating"],
  AnimationWheel1: ["effect"],
};

/** A wheel of a kind that does not carry this. */
export const wheelKindOdd: ProfileRule = {
  name: "wheel-kind-odd",
  why: "Faults are looked for in the wheel that the profile names: here in the wrong one.",
  find: (read) =>
    functionsOf(read, "wheel").flatMap(([id, { wheel }]) => {
      const kinds = CARRIED_BY[id] ?? [wheel];
      return kinds.includes(wheel)
        ? []
        : [
            {
              path: ["functions", id, "wheel"],
              message: `${id} on a wheel of the kind "${wheel}"`,
              instead: `wheel: ${kinds.join(" or ")}`,
            },
          ];
    }),
};
