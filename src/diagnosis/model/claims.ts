import type { Probability } from "../../domain/units.ts";

/** How an answer may be put: in words until the shop has enough finds of its own, then by how often such answers were right. */
export type Claim =
  | { readonly kind: "judged"; readonly words: BeliefWord }
  | {
      readonly kind: "measured";
      readonly words: BeliefWord;
      readonly probability: Probability;
      readonly finds: number;
    };

export type BeliefWord = "most likely" | "likely" | "possible";

/** What was claimed first of a fixture, by numbers that had not learned from it, and whether it was right. */
export interface KeptClaim {
  readonly probability: Probability;
  readonly right: boolean;
}

/** How far the odds of the model are to be trusted: their power. */
export interface Temper {
  readonly power: number;
  /** Finds that it was measured on; 0: judgement. */
  readonly finds: number;
}

/**
 * Signs of one fault repeat each other, the same eyes saw them all, and what stands on no list is thought of too seldom: the
 * odds count by their root and a little more. Judgement, fixed; not fitted to anything.
 */
export const FIXED_TEMPER: Temper = { power: 0.6, finds: 0 };

/** With fewer finds nothing can be measured. */
const ENOUGH_FINDS = 30;

/**
 * The power that makes the model's odds honest, measured on the shop's own finds when there are enough of them: the one
 * under which what came was most probable.
 */
export function temperOf(claims: readonly KeptClaim[]): Temper {
  if (claims.length < ENOUGH_FINDS) return FIXED_TEMPER;
  let low: number = POWERS[0];
  let high: number = POWERS[1];
  for (let i = 0; i < HALVINGS; i++) {
    const [left, right] = [low + (high - low) * GOLDEN, high - (high - low) * GOLDEN];
    if (surprise(claims, left) < surprise(claims, right)) high = right;
    else low = left;
  }
  return { power: (low + high) / 2, finds: claims.length };
}

const POWERS = [0.02, 1.5] as const;
const GOLDEN = (3 - Math.sqrt(5)) / 2;
const HALVINGS = 40;

const surprise = (claims: readonly KeptClaim[], power: number): number =>
  claims.reduce((sum, { probability, right }) => {
    const claimed = tempered(probability, power);
    return sum - Math.log(right ? claimed : 1 - claimed);
  }, 0);

/**
 * A probability whose odds are taken to a power: even stays even. `power` is above 0; below 1 a sure answer becomes less
 * sure, above 1 more sure, and 1 changes nothing.
 */
export function tempered(probability: Probability, power: number): Probability {
  const p = Math.min(SUREST, Math.max(1 - SUREST, probability));
  return 1 / (1 + ((1 - p) / p) ** power);
}

const SUREST: Probability = 1 - 1e-9;

/**
 * What may be said of a fault with this belief: words alone while the shop has no finds of its own; with them also the
 * tempered probability, 0 to 1, and how many finds it rests on.
 */
export function claimOf(probability: Probability, { power, finds }: Temper): Claim {
  const claimed = tempered(probability, power);
  const words = claimed >= 0.5 ? "most likely" : claimed >= 0.3 ? "likely" : "possible";
  return finds === 0 ? { kind: "judged", words } : { kind: "measured", words, probability: claimed, finds };
}
