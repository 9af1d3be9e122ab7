import type { Step } from "../../data/sequence/sequence.ts";
import type { CircumstanceId } from "../../diagnosis/model/circumstances.ts";
import type { Offer } from "../../diagnosis/model/offer.ts";
import type { TryOut } from "../../diagnosis/model/try-outs.ts";
import type { FollowUp } from "../../diagnosis/places/follow-up.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";

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

const ROUTINE: RoutineId = "self-test";

/**
 * One of the fixture's own tests as a step: nothing is sent but dark and still, while the fixture moves by its own program.
 */
export const ownTestStep = ({ number, words }: OwnTestOffer): Omit<Step, "id" | "line"> => ({
  routine: ROUTINE,
  functions: [],
  options: {
    watch: `its own test ${number}, "${words}": no grinding, no error. It moves by its own program: stand clear. A stop key asks it to stop; only its mains stops it for certain`,
  },
});

/**
 * The name of the step for a fixture's own test: "self-test-2". The number stays with the step, also where the run is taken
 * up again. `number` is the one that the fixture gives the test, 1 to 255.
 */
export const ownTestName = (number: number): string => `${ROUTINE}-${number}`;

/** The number of the fixture's own test that a step is, 1 to 255; undefined for all other steps. */
export const ownTestIn = (step: string): number | undefined => {
  const [, number] = /-self-test-(\d+)$/.exec(step) ?? [];
  return number === undefined ? undefined : Number(number);
};
