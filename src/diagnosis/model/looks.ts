import { entriesOf } from "../../domain/keys.ts";
import { COVERS, type CoverId } from "../../domain/trade/covers.ts";
import { type InspectionId, inspection } from "../../domain/trade/inspections.ts";
import type { Probability } from "../../domain/units.ts";
import type { Weighed } from "./evidence.ts";
import { type FaultId, isFault, type KnownFault, knownFault } from "./knowledge/faults.ts";
import { effectsOf, type LayeredFault } from "./layers.ts";
import type { InspectionAnswer } from "./observation.ts";
import type { Look, Opening } from "./order.ts";

/** A fault and the look by hand that tells it best among those not yet answered. */
export interface Suspect {
  readonly id: FaultId;
  readonly probability: Probability;
  readonly look: InspectionId;
  /** How surely the look tells it. */
  readonly told: Probability;
}

/** So unlikely that no look is worth its minutes. */
const NEGLIGIBLE: Probability = 0.001;

/**
 * The faults behind what was reported that some look can still find; before anything was reported, all of them. What
 * nothing speaks for waits for its turn among the routine wear points.
 */
export function suspectsOf(
  posteriors: Readonly<Record<string, Probability>>,
  { foreseen, evidence }: Weighed,
  answers: readonly InspectionAnswer[],
): readonly Suspect[] {
  const answered = new Set(answers.filter(({ answer }) => answer !== "not-asked").map(({ inspection: id }) => id));
  const blamed = new Set(foreseen.faults.filter((fault) => canBringAny(fault, evidence.present)).map(({ id }) => id));
  return Object.entries(posteriors).flatMap(([id, probability]) => {
    if (!isFault(id) || probability < NEGLIGIBLE || (evidence.present.length > 0 && !blamed.has(id))) return [];
    const best = bestLook(knownFault(id), answered);
    return best ? [{ id, probability, look: best.id, told: best.told }] : [];
  });
}

const canBringAny = (fault: LayeredFault, findings: readonly string[]): boolean =>
  effectsOf(fault).some(({ probability, links }) =>
    findings.some((id) => probability * (links.get(id) ?? 0) >= BLAMED),
  );

/** A fault that shows a finding more seldom than this is not looked for because of it. Judgement. */
const BLAMED: Probability = 0.02;

function bestLook({ found }: KnownFault, answered: ReadonlySet<InspectionId>) {
  const open = entriesOf(found)
    .map(([id, told]) => ({ id, told }))
    .filter(({ id }) => !answered.has(id));
  return open.reduce<(typeof open)[number] | undefined>(
    (best, one) => (best && best.told >= one.told ? best : one),
    undefined,
  );
}

/** The looks that these suspects lead to, each with the chance that it finds its fault. */
export function looksFor(suspects: readonly Suspect[], weigh: (id: FaultId) => number = () => 1): readonly Look[] {
  const chances = new Map<InspectionId, number>();
  for (const { id, probability, look, told } of suspects)
    chances.set(look, (chances.get(look) ?? 0) + probability * told * weigh(id));
  return [...chances].map(([id, probability]) => {
    const { minutes, cover } = inspection(id);
    return { id, probability, minutes, cover };
  });
}

/** What opening costs now: nothing for what is open, and less for a module when the head is open already. */
export const openingNow =
  (open: ReadonlySet<CoverId>): Opening =>
  (cover) => {
    if (open.has(cover as CoverId)) return 0;
    const spared = cover === "module" && open.has("head") ? COVERS.head.minutes : 0;
    return COVERS[cover as CoverId].minutes - spared;
  };
