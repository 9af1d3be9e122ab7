import type { Batch } from "./batch.ts";
import type { Conduct } from "./conduct.ts";
import type { RackInput } from "./input.ts";
import { rackQuestions } from "./questions.ts";
import { stepRack } from "./step.ts";

/** A rack run as the shell plays it. */
export const rackRun = (batch: Batch): Conduct<Batch, RackInput> => ({
  opening: batch,
  spots: batch.members.map(({ spot }) => spot),
  asks: rackQuestions,
  step: stepRack,
});
