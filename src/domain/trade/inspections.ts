import { keysOf } from "../keys.ts";
import { COVERS, type HoldPointId, type InspectionEntry } from "./hold-points.ts";
import { BASE } from "./inspections-base.ts";
import { BEAM } from "./inspections-beam.ts";
import { OUTSIDE } from "./inspections-outside.ts";
import { SOURCE } from "./inspections-source.ts";
import { WHEELS } from "./inspections-wheels.ts";
import { YOKE } from "./inspections-yoke.ts";
import type { MechanismId } from "./mechanisms.ts";
import type { ReadingId } from "./readings.ts";

/** Every inspection, as a closed list in the order of work: outside, panel, base, yoke, head. */
export const INSPECTIONS = { ...OUTSIDE, ...BASE, ...YOKE, ...SOURCE, ...WHEELS, ...BEAM };

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

/** The routine wear points of every check-in, looked at whether or not anything speaks for them. Common practice, no source. */
const ALWAYS_DUE = new Set<InspectionId>([
  "transport-locks",
  "plug-and-cord",
  "water",
  "yoke-entry",
  "gentle-rock",
  "front-lens",
  "brackets",
  "capacitors",
  "power-links",
  "loose-screws",
  "base-parts",
  "base-fans",
  "base-plugs",
  "earth-continuity",
  "yoke-wires",
  "yoke-boards",
  "yoke-capacitors",
  "yoke-fans",
  "pan-belt-edges",
  "pan-tension-wheel",
  "pan-encoder-marks",
  "tilt-belt-edges",
  "tilt-tension-wheel",
  "tilt-encoder-marks",
  "head-plugs",
  "head-capacitors",
  "colour-wheel-by-hand",
  "fixed-gobos-by-hand",
  "gobo-wheel-by-hand",
  "effect-wheel-by-hand",
  "gobos-by-hand",
  "gobo-springs",
  "flags-by-hand",
  "filings",
  "prism-by-hand",
  "frost-by-hand",
  "iris-by-hand",
  "zoom-by-hand",
  "focus-by-hand",
  "blades-by-hand",
  "light-pipe",
  "fans-by-finger",
]);

/** Seen before power; a bad answer here blocks power. Common practice, no source. */
const BLOCKS_POWER = new Set<InspectionId>(["transport-locks", "plug-and-cord", "water", "yoke-entry", "brackets"]);

/** Which routine wear points a fixture with these mechanisms has, in the order of work. */
export const alwaysDue = (fitted: ReadonlySet<MechanismId>): readonly InspectionId[] =>
  inspectionsOf(fitted).filter((id) => ALWAYS_DUE.has(id));

/** Looks that want the fixture powered, or closed and driven again: they come to nothing while it is isolated. Common practice, no source. */
const WANTS_POWER = new Set<InspectionId>(["plug-swap", "supply-swap", "driver-swap", "board-swap"]);

/** Whether an inspection is made with the mains on: parts changed for a try, and what the panel shows. */
export const wantsPower = (id: InspectionId): boolean => WANTS_POWER.has(id) || inspection(id).cover === "panel";

/** Whether a bad answer forbids switching the fixture on. */
export const blocksPower = (id: InspectionId): boolean => BLOCKS_POWER.has(id);

/**
 * Inspections whose bad answer is a danger to people. No power after one of them, and no release, until a repair of what the
 * inspection tells (or somebody else's second opinion, with a reason) is recorded and a good answer follows: a second look
 * alone never ends it. Each is asked by itself, never together with others. Common practice, no source; the maker's manual and local rules go before this list.
 */
export const SAFETY_FINDINGS = {
  "plug-and-cord": "plug, inlet or cord damaged",
  water: "water inside, or it smells burnt",
  "yoke-entry": "insulation worn where the cable enters the yoke",
  brackets: "bracket or safety-bond point loose, bent or missing",
  capacitors: "capacitor in the base bulged",
  "yoke-capacitors": "capacitor in the yoke bulged",
  "head-capacitors": "capacitor in the head bulged",
  "power-links": "power link in the base loose or browned",
  "driver-marks": "driver board burnt",
  "yoke-boards": "board in the yoke loose or browned",
  "yoke-wires": "bare or scorched conductor in the yoke",
  "earth-continuity": "earth broken between base, yoke and head",
} as const satisfies Partial<Record<InspectionId, string>>;
export type SafetyInspectionId = keyof typeof SAFETY_FINDINGS;
export const SAFETY_INSPECTIONS = keysOf(SAFETY_FINDINGS);

/** Whether an inspection is one of the safety inspections, which have a question of their own. */
export const isSafetyInspection = (id: InspectionId): id is SafetyInspectionId => id in SAFETY_FINDINGS;

/** What a danger is of: an inspection, or a measurement out of limit. */
export type DangerSource = InspectionId | Extract<ReadingId, "electrical-safety">;
