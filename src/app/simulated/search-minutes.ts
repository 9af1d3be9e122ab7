import { bestLookAt, FAULTS, type FaultId, knownFault } from "../../diagnosis/model/knowledge/faults.ts";
import { COVERS, type CoverId } from "../../domain/trade/hold-points.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";

/**
 * The faults in the order of how often a bench meets them (common practice, no source), the rest as the knowledge has them:
 * the order in which one would open covers without being told anything.
 */
export const USUAL_ORDER: readonly FaultId[] = [
  ...new Set<FaultId>([
    "settings-changed",
    "address-or-mode",
    "lens-grime",
    "lamp-worn",
    "filter-clogged",
    "fan-tired",
    "board-plug-loose",
    "gobo-wheel-sensor",
    "colour-wheel-sensor",
    "fixed-gobos-sensor",
    "flag-sticks",
    "tilt-belt-slack",
    "pan-belt-slack",
    "pan-encoder-dirty",
    "tilt-encoder-dirty",
    "gobo-holder",
    "gobo-spring",
    "gobo-gear",
    "iris-leaf-bent",
    "zoom-rails-dry",
    "focus-rails-dry",
    "loom-tired",
    "shutter-drags",
    "prism-arm-drags",
    "frost-warped",
    "driver-dead",
    "motor-open",
    "supply-weak",
    "source-driver",
    "yoke-bent",
    "data-socket",
    ...FAULTS.map(({ id }) => id),
  ]),
];

/**
 * Minutes of looking by hand until a right fault is looked at, with those that were spent already; what the ranking does not
 * name is looked for in the usual order.
 */
export const minutesByHand = (
  ranked: readonly FaultId[],
  right: readonly FaultId[],
  inspected: readonly InspectionId[] = [],
): number => minutesUntil([...new Set([...ranked, ...USUAL_ORDER])], right, inspected);

/**
 * Minutes until one of the right faults is looked at, in this order; each cover is opened once, what is looked at twice
 * costs once. `inspected` is what was done before, at its price.
 */
export const minutesUntil = (
  order: readonly FaultId[],
  right: readonly FaultId[],
  inspected: readonly InspectionId[] = [],
): number => {
  const opened = new Set<CoverId>();
  const looked = new Set<InspectionId>();
  let minutes = 0;
  const lookAt = (look: InspectionId) => {
    const { cover, minutes: own } = inspection(look);
    if (!opened.has(cover)) minutes += COVERS[cover].minutes;
    if (!looked.has(look)) minutes += own;
    opened.add(cover);
    looked.add(look);
  };
  for (const look of inspected) lookAt(look);
  for (const id of order) {
    lookAt(bestLookAt(knownFault(id)));
    if (right.includes(id)) return minutes;
  }
  return minutes;
};
