import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { HandStep } from "./by-hand.ts";
import type { StepOptions } from "./schema.ts";

/** An ordered test plan for any fixture. */
export interface Sequence {
  readonly name: string;
  readonly title: string;
  readonly steps: readonly Step[];
  /** What is done by hand between the steps, in order. */
  readonly byHand: readonly HandStep[];
}

/** One routine on one function, or on several that move together. */
export interface Step {
  /** Unique within the sequence; written, or made from the routine and its functions. */
  readonly id: string;
  readonly routine: RoutineId;
  /** Empty: the fixture as a whole. */
  readonly functions: readonly FunctionId[];
  readonly options: StepOptions;
  /** The line of the sequence file it came from. */
  readonly line: number;
}
