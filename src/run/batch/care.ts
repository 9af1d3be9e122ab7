import type { Step } from "../../data/sequence/sequence.ts";
import { FUNCTIONS } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";

/**
 * Where a small thing in the picture tells the odd one: gobos, sharpness and edges, fewer at once than movement, colour and the
 * size of a beam, which show at a glance beside others (common practice, no source).
 */
const FINE: readonly MechanismId[] = [
  "rotating-gobo-wheel",
  "fixed-gobo-wheel",
  "effect-wheel",
  "focus",
  "framing-blades",
];

/** How closely a step wants to be watched. */
export const careOf = ({ functions }: Pick<Step, "functions">): "broad" | "fine" =>
  functions.some((id) => FINE.includes(FUNCTIONS[id].mechanism)) ? "fine" : "broad";
