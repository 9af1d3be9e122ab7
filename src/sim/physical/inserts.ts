import { between } from "../chance.ts";
import { fitted, moverFault, type PhysicalFault, warmed } from "./fault.ts";

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

const bladeBent: PhysicalFault = {
  id: "shutter-blade-warped",
  words: "shutter blade warped by heat",
  on: ["Shutter1"],
  aside: true,
  troubles: (_build, chance) => {
    const leak = between(chance, 0.04, 0.12);
    return [
      { kind: "optics", spoils: () => ({ leak }) },
      { kind: "mover", function: "Shutter1", sounds: ({ speed }) => ({ rattle: speed > 0.5 ? 0.4 : 0 }) },
    ];
  },
};

const frostWarped: PhysicalFault = {
  id: "frost-glass-warped",
  words: "frost curled by heat, its corner stays in the beam",
  on: ["Frost1"],
  aside: true,
  troubles: (_build, chance) => {
    const shade = between(chance, 0.25, 0.45);
    return [
      {
        kind: "optics",
        spoils: ({ at, warmth }) => (at("Frost1") < 0.3 ? { shadow: shade * warmed(warmth, 0.1, 0.3) } : {}),
      },
      { kind: "mover", function: "Frost1", drag: () => 0.35 },
    ];
  },
};

/** What can be wrong with what is swung into the beam: prism, frost, shutter. */
export const INSERT_FAULTS: readonly PhysicalFault[] = [
  {
    ...moverFault({
      id: "prism-arm-bent",
      on: "Prism1",
      words: "prism arm bent, meets its stop too early",
      aside: false,
      hooks: (_build, chance) => ({ ends: { low: -1, high: between(chance, 0.55, 0.8) } }),
    }),
  },
  moverFault({
    id: "prism-spring-gone",
    on: "Prism1",
    words: "prism spring gone, the arm falls back when the head is tipped",
    aside: true,
    hooks: (_build, chance) => {
      const falls = between(chance, 0.3, 0.5);
      return {
        pull: ({ at, upright }) => (at > 0.5 ? -falls * Math.max(0.3, 1 - upright) : 0),
        sounds: ({ speed }) => ({ tick: speed > 0.3 ? 0.3 : 0 }),
      };
    },
  }),
  moverFault({
    id: "frost-arm-gummed",
    on: "Frost1",
    words: "frost arm gummed up with smoke fluid",
    aside: false,
    hooks: (build, chance) => {
      const hard = between(chance, 0.85, 0.93);
      const arm = fitted(build, "Frost1", "bands") !== undefined;
      return arm ? { drag: () => hard } : { drag: ({ at }) => (at > 0.4 ? hard : 0.3) };
    },
  }),
  frostWarped,
  moverFault({
    id: "shutter-blade-gummed",
    on: "Shutter1",
    words: "shutter blade gummed up, opens and shuts late",
    aside: false,
    hooks: (_build, chance) => {
      const hard = between(chance, 0.88, 0.94);
      return { holdsBack: () => hard };
    },
  }),
  bladeBent,
];

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
