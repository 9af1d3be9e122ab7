import { between } from "../chance.ts";
import { moverFault, type PhysicalFault, warmed } from "./fault.ts";

const scorched: PhysicalFault = {
  id: "magenta-flag-scorched",
  words: "coating of the magenta flag scorched",
  on: ["ColorSub_M"],
  aside: true,
  troubles: (_build, chance) => {
    const bad = between(chance, 0.3, 0.6);
    return [
      { kind: "optics", patchy: { function: "ColorSub_M", how: ({ at }) => (at("ColorSub_M") > 0.1 ? bad : 0) } },
    ];
  },
};

const fouled: PhysicalFault = {
  id: "yellow-flag-fouled",
  words: "burnt-in residue on the yellow flag, catching at its edge",
  on: ["ColorSub_Y"],
  aside: false,
  troubles: (_build, chance) => {
    const hard = between(chance, 0.6, 0.75);
    return [
      { kind: "optics", patchy: { function: "ColorSub_Y", how: ({ at }) => (at("ColorSub_Y") > 0.1 ? 0.35 : 0) } },
      { kind: "mover", function: "ColorSub_Y", drag: ({ at }) => (at > 0.3 && at < 0.6 ? hard : 0) },
    ];
  },
};

/** What can be wrong with the colour flags. */
export const FLAG_FAULTS: readonly PhysicalFault[] = [
  moverFault({
    id: "cyan-flag-binds-hot",
    on: "ColorSub_C",
    words: "cyan flag binds in its guide as it warms",
    aside: false,
    hooks: (_build, chance) => {
      const hard = between(chance, 0.85, 0.98);
      const from = between(chance, 0.3, 0.6);
      return { drag: ({ at, warmth }) => (at > from ? hard * warmed(warmth, 0.2, 0.45) : 0) };
    },
  }),
  scorched,
  fouled,
  moverFault({
    id: "yellow-flag-slack-on-shaft",
    on: "ColorSub_Y",
    words: "yellow flag loose on its shaft, drops when the head is tipped",
    aside: true,
    hooks: (_build, chance) => {
      const drops = between(chance, 0.15, 0.3);
      return { pull: ({ at, upright }) => -Math.min(at, drops * Math.max(0, 0.9 - upright)) };
    },
  }),
  moverFault({
    id: "warm-filter-arm-bent",
    on: "CTO",
    words: "arm of the warm filter bent, meets the housing",
    aside: false,
    hooks: (_build, chance) => {
      const high = between(chance, 0.7, 0.85);
      return { ends: { low: -1, high }, drag: ({ at }) => (at > high - 0.15 ? 0.4 : 0) };
    },
  }),
  moverFault({
    id: "magenta-output-burnt",
    on: "ColorSub_M",
    words: "output for the magenta motor burnt out",
    aside: true,
    hooks: () => ({ drive: () => "dead" }),
  }),
];
