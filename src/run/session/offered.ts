import type { CircumstanceId } from "../../diagnosis/model/circumstances.ts";
import type { Offer } from "../../diagnosis/model/next.ts";
import type { TryOut } from "../../diagnosis/model/try-outs.ts";
import type { FollowUp } from "../../diagnosis/places/follow-up.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";

/** One thing to do next: a test or a look that parts faults, or a test that settles where in a travel it happens. */
export type Offered = Offer | TryOut | FollowUpOffer | OwnTestOffer;

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

/** What is said beside the offers: what nobody can explain yet, or what a check in which nothing was found could not show. */
export type AdviceGround =
  | { readonly kind: "reported"; readonly unexplained: readonly string[] }
  | {
      readonly kind: "nothing-found";
      readonly unexplained: readonly string[];
      readonly untried: readonly CircumstanceId[];
    };
