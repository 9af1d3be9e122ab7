import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { Seconds } from "../../domain/units.ts";
import type { Probe, ProbeStep } from "./probe.ts";

/** A test to be driven, as it is played. */
export interface PlayedTest {
  readonly under: Probe["under"];
  readonly routine: RoutineId;
  /** Without one the fixture moves as a whole. */
  readonly function: FunctionId | undefined;
  /** What is played for it, in this order. */
  readonly steps: readonly OfferedStep[];
  readonly seconds: Seconds;
  readonly reason: string;
}

/** A step of a sequence that is not written yet. */
type OfferedStep = Pick<ProbeStep, "routine" | "functions" | "options">;

/** A key, everybody clear, to where it begins, the test watched, the question answered: minutes beside its own. Judgement. */
export const HANDLING = 0.5;

/** A test as it would be played, and why. */
export const asPlayed = ({ under, routine, function: id, steps, seconds }: Probe, reason: string): PlayedTest => ({
  under,
  routine,
  function: id,
  steps: steps.map(({ routine: played, functions, options }) => ({ routine: played, functions, options })),
  seconds,
  reason,
});

/** What a test is about: not what keeps it warm, nor the axes that shake it. */
export const testedIn = ({
  under,
  function: id,
  steps,
}: Pick<PlayedTest, "under" | "function" | "steps">): readonly FunctionId[] => {
  if (id !== undefined) return [id];
  const moved = steps.filter(({ routine }) => routine !== "soak").flatMap(({ functions }) => functions);
  return [...new Set(moved)].filter((one) => under !== "shaken" || (one !== "Pan" && one !== "Tilt"));
};
