import type { FunctionId } from "../../domain/trade/functions.ts";
import type { RoutineId } from "../../domain/trade/routines.ts";
import type { SymptomId } from "../../domain/trade/symptoms.ts";
import type { Frame } from "../../domain/units.ts";

/** What the observer is asked to watch. */
export interface WatchedStep {
  readonly functions: readonly FunctionId[];
  readonly routine: RoutineId;
  readonly frames: Frame;
  /** How many fixtures the same pair of eyes watches at once, this one among them; 1 when not said. */
  readonly together?: number;
}

/** Something that caught the eye or ear in this frame. */
export type Notice =
  /** "There!": worth a press, not yet understood. */
  { readonly kind: "there"; readonly function: FunctionId } | Named;

/** Understood: this symptom. */
export interface Named {
  readonly kind: "symptom";
  readonly symptom: SymptomId;
  readonly function: FunctionId | undefined;
  /** The function that was being watched when it was noticed. */
  readonly from: FunctionId | undefined;
  /** At once, worth a press; or only on thinking back when the step is over. */
  readonly when: "at once" | "afterwards";
  /** How far above what can just be noticed: under 1.5 is a doubtful case. */
  readonly clear: number;
}
