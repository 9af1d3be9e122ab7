import type { FixtureBuild } from "../build.ts";
import { chanceFrom, seedFor } from "../chance.ts";
import type { PartTrouble } from "../trouble.ts";
import { AXIS_FAULTS } from "./axes.ts";
import { BAD_CONTACTS } from "./bad-contacts.ts";
import { BLADE_FAULTS } from "./blades.ts";
import { ELECTRONIC_FAULTS } from "./electronics.ts";
import type { PhysicalFault } from "./fault.ts";
import { FLAG_FAULTS } from "./flags.ts";
import { INSERT_FAULTS } from "./inserts.ts";
import { LATER_FAULTS } from "./later.ts";
import { LENS_FAULTS } from "./lenses.ts";
import { LIGHT_FAULTS } from "./light.ts";
import { SETTING_FAULTS } from "./settings.ts";
import { STRANGE_FAULTS } from "./strange.ts";
import { TURNER_FAULTS } from "./turners.ts";
import { WHEEL_FAULTS } from "./wheels.ts";
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

/** Everything that can be set, and what stands on nobody's list besides. */
const SETTABLE: readonly PhysicalFault[] = [...PHYSICAL_FAULTS, ...STRANGE_FAULTS];

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
