import type { DrivenTest, HandLook } from "../../src/diagnosis/model/offer.ts";
import type { FunctionId } from "../../src/domain/trade/functions.ts";
import { type InspectionId, inspection } from "../../src/domain/trade/inspections.ts";

const PROMISED = { reason: "would tell more", expectedMinutes: 5, bits: 0.5 } as const;

/** An inspection as the model offers one. */
export const offeredLook = (id: InspectionId): HandLook => ({
  kind: "inspection",
  inspection: id,
  cover: inspection(id).cover,
  minutes: inspection(id).minutes,
  ...PROMISED,
});

/** A sweep of one function as the model offers one. */
export const offeredSweep = (id: FunctionId, seconds = 10): DrivenTest => ({
  kind: "driven",
  under: "as usual",
  routine: "sweep",
  function: id,
  steps: [{ routine: "sweep", functions: [id], options: {} }],
  seconds,
  ...PROMISED,
});
