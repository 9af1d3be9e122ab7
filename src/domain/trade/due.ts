import { type InspectionId, inspection, inspectionsOf } from "./inspections.ts";
import type { MechanismId } from "./mechanisms.ts";

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
