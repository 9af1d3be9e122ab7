import { between } from "../chance.ts";
import { moverFault, type PhysicalFault } from "./fault.ts";

/** What can be wrong with framing blades. */
export const BLADE_FAULTS: readonly PhysicalFault[] = [
  moverFault({
    id: "blade-guide-tight",
    on: "Blade1A",
    words: "guide of the first blade too tight",
    aside: true,
    hooks: (_build, chance) => {
      const hard = between(chance, 0.8, 0.95);
      return { drag: ({ at }) => (at > 0.4 ? hard : 0.3) };
    },
  }),
  moverFault({
    id: "blade-drive-slips",
    on: "Blade3A",
    words: "drive of the third blade slips and lets it sink",
    aside: false,
    hooks: (_build, chance) => {
      const sinks = between(chance, 0.0002, 0.0005);
      return { slip: ({ upright }) => -sinks * Math.max(0.3, upright) };
    },
  }),
];
