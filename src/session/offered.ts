import type { Offer } from "../faults/next.ts";
import type { FollowUp } from "../presses/follow-up.ts";
import type { FunctionId } from "../trade/functions.ts";

/** One thing to do next: a test or a look that parts faults, or a test that settles where in a travel it happens. */
export type Offered = Offer | FollowUpOffer;

export interface FollowUpOffer {
  readonly kind: "follow-up";
  readonly function: FunctionId;
  readonly test: FollowUp;
}
