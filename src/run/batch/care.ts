import type { Step } from "../../data/sequence/sequence.ts";
import { FUNCTIONS } from "../../domain/trade/functions.ts";
import type { MechanismId } from "../../domain/trade/mechanisms.ts";

/** Where a small thing in the picture tells the odd one: fewer at once than for movement and colour (common practice, no source). */
const FINE: readonly MechanismId[] = [
  "rotating-gobo-wheel",
  "fixed-gobo-wheel",
  "effect-wheel",
  "prism",
  "frost",
  "focus",
  "zoom",
  "iris",
  "framing-blades",
];

/** How closely a step wants to be watched. */
export const careOf = ({ functions }: Pick<Step, "functions">): "broad" | "fine" =>
  functions.some((id) => FINE.includes(FUNCTIONS[id].mechanism)) ? "fine" : "broad";
