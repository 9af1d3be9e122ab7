import { FRAME_SECONDS } from "../../domain/units.ts";
import type { FixtureBuild } from "../build.ts";
import { between, chanceFrom, seedFor } from "../chance.ts";
import type { PartTrouble } from "../trouble.ts";
import { AXIS_FAULTS } from "./axes.ts";
import { BAD_CONTACTS } from "./bad-contacts.ts";
import { ELECTRONIC_FAULTS, SETTING_FAULTS } from "./electronics.ts";
import { moverFault, type PhysicalFault } from "./fault.ts";
import { BLADE_FAULTS, FLAG_FAULTS, INSERT_FAULTS } from "./inserts.ts";
import { LATER_FAULTS } from "./later.ts";
import { LENS_FAULTS } from "./lenses.ts";
import { LIGHT_FAULTS } from "./light.ts";
import { TURNER_FAULTS, WHEEL_FAULTS } from "./wheels.ts";
import { WORN_PARTS } from "./worn-parts.ts";

/** Everything that can be set in the simulated fixture. */
export const PHYSICAL_FAULTS: readonly PhysicalFault[] = [
  ...AXIS_FAULTS,
  ...WHEEL_FAULTS,
  ...TURNER_FAULTS,
  ...FLAG_FAULTS,
  ...LENS_FAULTS,
  ...INSERT_FAULTS,
  ...BLADE_FAULTS,
  ...LIGHT_FAULTS,
  ...ELECTRONIC_FAULTS,
  ...SETTING_FAULTS,
  ...LATER_FAULTS,
  ...WORN_PARTS,
  ...BAD_CONTACTS,
];

/**
 * Things that are wrong and stand on nobody's list, each once met by somebody: the right answer to them is that it is
 * something else.
 */
export const STRANGE_FAULTS: readonly PhysicalFault[] = [
  moverFault({
    id: "strange-iris-wanders",
    on: "Iris",
    words: "stray magnet beside the iris motor: it wanders to and fro by itself",
    aside: false,
    hooks: (_build, chance) => {
      const far = between(chance, 0.06, 0.14);
      const hz = between(chance, 0.1, 0.3);
      return { pull: ({ time_s }) => far * Math.sin(2 * Math.PI * hz * time_s) };
    },
  }),
  moverFault({
    id: "strange-pan-other-motor",
    on: "Pan",
    words: "pan motor of another type fitted: strong, quiet, and a fifth too slow",
    aside: false,
    hooks: (_build, chance) => {
      const held = between(chance, 0.58, 0.66);
      return { holdsBack: () => held };
    },
  }),
  moverFault({
    id: "strange-zoom-turns-over",
    on: "Zoom",
    words: "zoom lead swapped in a repair: it goes the right way and jumps to and fro at every start",
    aside: false,
    hooks: (_build, chance) => {
      const far = between(chance, 0.05, 0.1);
      return { pull: ({ speed, way }) => (speed > 0.02 && speed < 0.4 ? -way * far : 0) };
    },
  }),
  {
    id: "strange-moth-inside",
    words: "a dead moth on the inner side of the front lens, it flutters in the air of the fan",
    on: [],
    aside: false,
    troubles: (_build, chance) => {
      const far = between(chance, 0.2, 0.4);
      return [
        {
          kind: "optics",
          spoils: ({ time_s }) => ({ shadow: Math.max(0, far * Math.sin(time_s / FRAME_SECONDS / 90)) }),
        },
      ];
    },
  },
  {
    id: "strange-tape-on-fan",
    words: "end of a strip of tape in the air of the fan, ticks only while it is cold",
    on: [],
    aside: false,
    troubles: () => [
      {
        kind: "air",
        fan: ({ warmth }) => ({ loud: warmth < 0.3 ? 0.4 : 0, tick: 0.5, turning: true }),
        smell: () => 0,
      },
    ],
  },
];

/** Everything that can be set, and what stands on nobody's list besides. */
const SETTABLE: readonly PhysicalFault[] = [...PHYSICAL_FAULTS, ...STRANGE_FAULTS];

/** What is wrong with this fault set, as one would say it with the part in the hand; `id` itself where it means no fault. */
export const faultWords = (id: string): string => SETTABLE.find((fault) => fault.id === id)?.words ?? id;

export interface SetFaults {
  readonly troubles: readonly PartTrouble[];
  /** What was set, in the order given. */
  readonly set: readonly PhysicalFault[];
  /** Faults that this fixture cannot have: it lacks the function. */
  readonly notApplicable: readonly string[];
  /** Names that mean no fault. */
  readonly unknown: readonly string[];
}

/**
 * Sets faults by name. `seed` is any whole number that decides where and how bad each is, the same again for the same seed.
 */
export const setFaults = (build: FixtureBuild, ids: readonly string[], seed: number): SetFaults => {
  const known = ids.flatMap((id) => SETTABLE.find((fault) => fault.id === id) ?? []);
  const made = known.map((fault) => ({ fault, troubles: troublesOf(fault, build, seed) }));
  return {
    troubles: made.flatMap(({ troubles }) => troubles ?? []),
    set: made.filter(({ troubles }) => troubles !== undefined).map(({ fault }) => fault),
    notApplicable: made.filter(({ troubles }) => troubles === undefined).map(({ fault }) => fault.id),
    unknown: ids.filter((id) => !SETTABLE.some((fault) => fault.id === id)),
  };
};

const troublesOf = (fault: PhysicalFault, build: FixtureBuild, seed: number): readonly PartTrouble[] | undefined => {
  const missing = fault.on.some((id) => !build.parts.some((part) => part.function === id));
  return missing ? undefined : fault.troubles(build, chanceFrom(seedFor(seed, fault.id)));
};
