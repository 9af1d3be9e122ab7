import { keysOf } from "../keys.ts";
import type { InspectionId } from "./inspections.ts";
import type { ReadingId } from "./readings.ts";

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
