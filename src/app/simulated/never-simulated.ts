import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";

/** Faults that nothing simulates, so that in a trial they can only be wrong answers: and why each is not simulated. */
export const NEVER_SIMULATED = {
  "insulation-worn": "shows nothing while it runs; it is found by looking at the wires",
  "earth-broken": "shows nothing while it runs; it is found with a meter",
  "effect-wheel-sensor": "no profile that comes with Limber has an animation wheel",
  "effect-wheel-hub": "no profile that comes with Limber has an animation wheel",
  "effect-wheel-drags": "no profile that comes with Limber has an animation wheel",
  "blade-bent": "the simulated picture knows where a blade stands, not whether its edge is straight",
  "board-faulty": "the simulated display cannot fail, and it is the sign that tells the board from the supply",
  "panel-faulty": "the simulated display and keys cannot fail",
  "memory-battery": "it takes a night without mains, and a run has none",
  "brackets-loose": "the simulated fixture stands or hangs on nothing that could be loose",
  "water-inside": "nobody switches a wet fixture on",
} as const satisfies Partial<Record<FaultId, string>>;
