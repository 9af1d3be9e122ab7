import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { Degrees } from "../../../domain/units.ts";
import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A wider travel no fixture has (judgement). */
const WIDEST: Partial<Record<FunctionId, Degrees>> = { Pan: 720, Tilt: 360, ShaperRot: 360 };

/** Degrees in the thousands. */
export const degreesTooMany: ProfileRule = {
  name: "degrees-too-many",
  why: "Tenths or raw values taken for degrees make every speed wrong, and open the beam where it must be shut.",
  find: (read) =>
    functionsOf(read, "travel").flatMap(([id, { from, to, unit }]) => {
      const widest = WIDEST[id];
      const span = Math.abs(to - from);
      return unit !== "deg" || widest === undefined || span <= widest
        ? []
        : [
            {
              path: ["functions", id, "to_deg"],
              message: `a travel of ${span} degrees`,
              instead: `whole degrees, at most ${widest} from end to end`,
            },
          ];
    }),
};
