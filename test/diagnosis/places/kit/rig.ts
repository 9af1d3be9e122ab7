import { compile } from "../../../../src/plan/compile.ts";
import type { CompiledStep } from "../../../../src/plan/timeline.ts";
import { sequenceOf, shippedBench, shippedProfile } from "../../../kit/shipped.ts";

export const spot = shippedProfile("spot-16bit");
export const bench = shippedBench();

/** A step as a run would play it, written as in a sequence file. */
export const stepOf = (text: string): CompiledStep => {
  const [step] = compile(spot, sequenceOf(text), bench).steps;
  if (!step) throw new Error(`no step in ${text}`);
  return step;
};
