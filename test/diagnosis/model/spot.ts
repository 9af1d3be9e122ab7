import type { Observation } from "../../../src/diagnosis/model/observation.ts";
import type { Fitted } from "../../../src/diagnosis/model/places.ts";
import { FUNCTIONS, type FunctionId } from "../../../src/domain/trade/functions.ts";
import type { RoutineId } from "../../../src/domain/trade/routines.ts";
import type { SymptomId } from "../../../src/domain/trade/symptoms.ts";

const IDS: readonly FunctionId[] = [
  "Pan",
  "Tilt",
  "Dimmer",
  "Shutter1",
  "Color1",
  "ColorSub_C",
  "ColorSub_M",
  "ColorSub_Y",
  "CTO",
  "Gobo1",
  "Gobo1Pos",
  "Prism1",
  "Prism1Pos",
  "Frost1",
  "Iris",
  "Zoom",
  "Focus1",
  "Control1",
];

/** A spot with a fixed and a rotating gobo wheel. */
export const SPOT: readonly Fitted[] = [
  ...IDS.map((id) => ({ function: id, mechanism: FUNCTIONS[id].mechanism })),
  { function: "Gobo2", mechanism: "fixed-gobo-wheel" },
];

type Step = `${RoutineId} ${FunctionId | "fixture"}`;

/** The short check of a spot, in the order of the bench. */
const QUICK: readonly (readonly [RoutineId, readonly FunctionId[]])[] = [
  ["power-up", []],
  ["identify", ["Pan"]],
  ["sweep", ["Pan"]],
  ["sweep", ["Tilt"]],
  ["snap", ["Pan"]],
  ["snap", ["Tilt"]],
  ["backlash", ["Pan"]],
  ["backlash", ["Tilt"]],
  ["hold", ["Focus1"]],
  ["sweep", ["Focus1"]],
  ["sweep", ["Zoom"]],
  ["sweep", ["Iris"]],
  ["snap", ["Iris"]],
  ["sweep", ["ColorSub_C"]],
  ["sweep", ["ColorSub_M"]],
  ["sweep", ["ColorSub_Y"]],
  ["sweep", ["CTO"]],
  ["step-through", ["Color1"]],
  ["step-through", ["Gobo2"]],
  ["step-through", ["Gobo1"]],
  ["rotate", ["Gobo1Pos"]],
  ["in-and-out", ["Prism1"]],
  ["rotate", ["Prism1Pos"]],
  ["in-and-out", ["Frost1"]],
  ["sweep", ["Dimmer"]],
  ["in-and-out", ["Shutter1"]],
  ["shake", ["Pan", "Tilt"]],
  ["return", []],
];

/** A whole watched run in which only these steps failed, with these symptoms. */
export const runWith = (
  seen: Readonly<Partial<Record<Step, readonly SymptomId[]>>>,
  setting: Partial<Pick<Observation, "watched" | "litMinutes" | "attitude">> = {},
): readonly Observation[] =>
  QUICK.map(([routine, functions]) => {
    const [first] = functions;
    const symptoms = seen[`${routine} ${first ?? "fixture"}`] ?? [];
    return {
      routine,
      functions: functions.map((id) => SPOT.find((one) => one.function === id)!),
      result: symptoms.length > 0 ? "fail" : "pass",
      symptoms: symptoms.map((symptom) => ({ symptom, function: first })),
      watched: "attended",
      litMinutes: 3,
      attitude: "standing",
      ...setting,
    };
  });
