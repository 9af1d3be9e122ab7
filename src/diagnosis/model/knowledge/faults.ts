import { entriesOf } from "../../../domain/keys.ts";
import type { InspectionId } from "../../../domain/trade/inspections.ts";
import { MECHANISM_IDS, type MechanismId } from "../../../domain/trade/mechanisms.ts";
import { PAN_DRIVE, TILT_DRIVE } from "./axis.ts";
import { CHASSIS } from "./chassis.ts";
import { COLOUR_FLAGS } from "./colour-flags.ts";
import { CONTROL } from "./control.ts";
import { COOLING } from "./cooling.ts";
import { DIMMER_SHUTTER } from "./dimmer-shutter.ts";
import type { FaultEntry, Knowledge } from "./entry.ts";
import { FRAMING_BLADES } from "./framing-blades.ts";
import { FROST } from "./frost.ts";
import { IRIS } from "./iris.ts";
import { FOCUS, ZOOM } from "./lenses.ts";
import { LIGHT_ENGINE } from "./light-engine.ts";
import { OPTICS } from "./optics.ts";
import { POWER_SUPPLY } from "./power-supply.ts";
import { PRISM } from "./prism.ts";
import { COLOUR_WHEEL, EFFECT_WHEEL, FIXED_GOBO_WHEEL, ROTATING_GOBO_WHEEL } from "./wheels.ts";
import { YOKE_LOOM } from "./yoke-loom.ts";

/** Everything that is known, by mechanism. */
const KNOWLEDGE = {
  "pan-drive": PAN_DRIVE,
  "tilt-drive": TILT_DRIVE,
  "yoke-loom": YOKE_LOOM,
  "colour-wheel": COLOUR_WHEEL,
  "colour-flags": COLOUR_FLAGS,
  "fixed-gobo-wheel": FIXED_GOBO_WHEEL,
  "rotating-gobo-wheel": ROTATING_GOBO_WHEEL,
  "effect-wheel": EFFECT_WHEEL,
  prism: PRISM,
  frost: FROST,
  iris: IRIS,
  zoom: ZOOM,
  focus: FOCUS,
  "framing-blades": FRAMING_BLADES,
  "dimmer-shutter": DIMMER_SHUTTER,
  "light-engine": LIGHT_ENGINE,
  optics: OPTICS,
  cooling: COOLING,
  "power-supply": POWER_SUPPLY,
  control: CONTROL,
  chassis: CHASSIS,
} as const satisfies Readonly<Record<MechanismId, Knowledge>>;

type IdsOf<M extends MechanismId> = M extends MechanismId ? keyof (typeof KNOWLEDGE)[M]["faults"] : never;
/** Every fault of the trade that the model knows. */
export type FaultId = IdsOf<MechanismId>;

/** A fault with where it sits and where its numbers come from. */
export interface KnownFault extends FaultEntry {
  readonly id: FaultId;
  readonly mechanism: MechanismId;
  readonly origin: string;
}

/** All faults, in the order of the mechanisms. */
export const FAULTS: readonly KnownFault[] = MECHANISM_IDS.flatMap((mechanism) => {
  const { origin, faults }: Knowledge<FaultId> | Knowledge = KNOWLEDGE[mechanism];
  return entriesOf<FaultId, FaultEntry>(faults).map(([id, entry]) => ({ ...entry, id, mechanism, origin }));
});

const BY_ID: ReadonlyMap<string, KnownFault> = new Map(FAULTS.map((fault) => [fault.id, fault]));

/** Whether this is the id of a fault of ours, and not of one that nobody has thought of. */
export const isFault = (id: string): id is FaultId => BY_ID.has(id);

/** What is known of a fault. Throws when it is not one of ours, which is a mistake of the program. */
export function knownFault(id: FaultId): KnownFault {
  const fault = BY_ID.get(id);
  if (!fault) throw new Error(`Bug: there is no fault ${id}`);
  return fault;
}

/** The inspection that tells a fault best. Throws when none does, which is a mistake of the program. */
export function bestLookAt({ id, found }: KnownFault): InspectionId {
  const [best] = entriesOf(found).toSorted(([, a], [, b]) => b - a);
  if (!best) throw new Error(`Bug: no look by hand finds ${id}`);
  return best[0];
}

export const FAULT_IDS: readonly FaultId[] = FAULTS.map(({ id }) => id);

const ONE_OF_MANY: ReadonlySet<string> = new Set(
  FAULTS.filter(({ does }) => does.some(({ on }) => on === "one" || on === "board" || on === "loom")).map(
    ({ id }) => id,
  ),
);
/** Whether a fault strikes one of several parts, nobody knows beforehand which. */
export const isOneOfMany = (fault: string): boolean => ONE_OF_MANY.has(fault);
