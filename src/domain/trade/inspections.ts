import { keysOf } from "../keys.ts";
import { COVERS, type InspectionEntry } from "./covers.ts";
import type { HoldPointId } from "./hold-points.ts";
import { BASE } from "./inspections-base.ts";
import { BEAM } from "./inspections-beam.ts";
import { OUTSIDE } from "./inspections-outside.ts";
import { SHAPE } from "./inspections-shape.ts";
import { SOURCE } from "./inspections-source.ts";
import { WHEELS } from "./inspections-wheels.ts";
import { YOKE } from "./inspections-yoke.ts";
import type { MechanismId } from "./mechanisms.ts";

/** Every inspection, as a closed list in the order of work: outside, panel, base, yoke, head. */
export const INSPECTIONS = { ...OUTSIDE, ...BASE, ...YOKE, ...SOURCE, ...WHEELS, ...BEAM, ...SHAPE };

export type InspectionId = keyof typeof INSPECTIONS;
export const INSPECTION_IDS = keysOf(INSPECTIONS);

/** What is known of an inspection: its words, its minutes, the cover it lies behind. */
export const inspection = (id: InspectionId): InspectionEntry => INSPECTIONS[id];

/** Why a look is worth it, where its words do not say so: shown with the question. Common practice, no source. */
const REASONS: Partial<Record<InspectionId, string>> = {
  filings: "metal dust there gives wrong colours, and the fixture reports no error",
  "pan-encoder-marks":
    "the encoder wheel runs in a narrow gap: marks mean it touches something, often because the yoke is bent",
  "tilt-encoder-marks":
    "the encoder wheel runs in a narrow gap: marks mean it touches something, often because the yoke is bent",
  "gobos-by-hand": "one drive turns them all, so the one that feels different is the faulty one",
  "base-parts": "a part that moves wears its wires through",
  "yoke-boards": "plugs in the arms work loose in transport",
};

/** Why a look is worth its minutes, in words; empty where its own words say so. */
export const lookReason = (id: InspectionId): string => REASONS[id] ?? "";

/** The confirmations without which this look does not begin. */
export const holdsBefore = (id: InspectionId): readonly HoldPointId[] => COVERS[INSPECTIONS[id].cover].holds;

/** What can be looked at on a fixture with these mechanisms. */
export const inspectionsOf = (fitted: ReadonlySet<MechanismId>): readonly InspectionId[] =>
  INSPECTION_IDS.filter((id) => fitted.has(INSPECTIONS[id].on));
