import { mechanismsOf } from "../faults/network.ts";
import { hintFor } from "../problem/nearest.ts";
import { bad, good, type Problem, problem, type Result } from "../problem/problem.ts";
import { safeText } from "../problem/terminal.ts";
import { parseProfile } from "../profile/parse.ts";
import { fittedOf } from "../profile/profile.ts";
import { type CleanPlan, cleanPlanFor, cleanPlanInWords } from "../report/clean-plan.ts";
import { fileShelf } from "../shelf/files.ts";
import { GRIME_IDS } from "../trade/cleanings.ts";
import { load } from "./data.ts";
import { EXIT, type ExitCode } from "./exit.ts";
import { print, refuse } from "./print.ts";

/** What cleaning these fixtures takes: pads, fluid, minutes, the order of work, and the cautions. */
export const cleanPlan = (orders: readonly string[], json: boolean): ExitCode => {
  const plans = orders.map(planFor);
  const wrong = plans.flatMap((plan): readonly Problem[] => (plan.ok ? [] : plan.problems));
  if (wrong.length > 0) return refuse(wrong);
  const made = plans.flatMap((plan) => (plan.ok ? [plan.value] : []));
  print(json ? JSON.stringify(made, undefined, 2) : cleanPlanInWords(made).join("\n"));
  return EXIT.done;
};

/** PROFILE, PROFILE:NUMBER or PROFILE:NUMBER:GRIME. */
const planFor = (order: string): Result<CleanPlan> => {
  const [name = "", number = "1", grime = "ordinary"] = order.split(":");
  const level = GRIME_IDS.find((id) => id === grime);
  const profile = load(fileShelf(), "profiles", name, parseProfile);
  const wrong = [
    ...(/^[1-9]\d{0,3}$/.test(number)
      ? []
      : [problem(order, `"${number}" is no number of fixtures`, "as in spot-16bit:8")]),
    ...(level ? [] : [problem(order, `"${grime}" is no grime`, hintFor(grime, GRIME_IDS) ?? GRIME_IDS.join(", "))]),
    ...(profile.ok ? [] : profile.problems),
  ];
  if (!level || !profile.ok || wrong.length > 0) return bad(...wrong);
  const { value } = profile.value;
  return good(cleanPlanFor(safeText(value.title), mechanismsOf(fittedOf(value)), Number(number), level));
};
