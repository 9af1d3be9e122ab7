import { between } from "../chance.ts";
import { fitted, moverFault, type PhysicalFault, warmed } from "./fault.ts";

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
