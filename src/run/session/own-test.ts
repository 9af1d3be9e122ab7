import type { Step } from "../../data/sequence/sequence.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { OwnTestOffer } from "./offered.ts";
import type { Session } from "./session.ts";

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

/** A test of the fixture's own that is played, by its number, its step, and which try at it this is. */
export interface OwnTestPlayed {
  readonly test: number;
  readonly step: string;
  readonly attempt: number;
}

/** The fixture's own test that runs just now; undefined where none does. */
export const ownTestNow = ({ stage }: Session): OwnTestPlayed | undefined => {
  if (stage.kind !== "moving" || stage.step.routine !== ROUTINE) return undefined;
  const test = ownTestIn(stage.step.id);
  return test === undefined ? undefined : { test, step: stage.step.id, attempt: stage.attempt };
};
