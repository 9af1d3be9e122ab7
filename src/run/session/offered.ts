import type { Offer } from "../../diagnosis/model/next.ts";
import type { FollowUp } from "../../diagnosis/places/follow-up.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";

/** One thing to do next: a test or a look that parts faults, or a test that settles where in a travel it happens. */
export type Offered = Offer | FollowUpOffer | OwnTestOffer;

/** A test that the fixture has of its own, by its number: it begins when it is told to over RDM, and says when it is over. */
export interface OwnTestOffer {
  readonly kind: "own-test";
  readonly number: number;
  readonly words: string;
}

interface FollowUpOffer {
  readonly kind: "follow-up";
  readonly function: FunctionId;
  readonly test: FollowUp;
}
