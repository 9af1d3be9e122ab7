import { parseProfile } from "../../data/profile/parse.ts";
import { fittedOf } from "../../data/profile/profile.ts";
import { mechanismsOf } from "../../diagnosis/model/places.ts";
import { bad, good, hintFor, type Problem, problem, type Result } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import { DIRT_IDS } from "../../domain/trade/cleanings.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { type CleanPlan, cleanPlanFor, cleanPlanInWords } from "../../reports/hand-work.ts";
import { load } from "../common/data.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";

/** What cleaning these fixtures takes: pads, fluid, minutes, the order of work, and the cautions. */
export const cleanPlan = (orders: readonly string[], json: boolean): ExitCode => {
  const plans = orders.map(planFor);
  const wrong = plans.flatMap((plan): readonly Problem[] => (plan.ok ? [] : plan.problems));
  if (wrong.length > 0) return refuse(wrong);
  const made = plans.flatMap((plan) => (plan.ok ? [plan.value] : []));
  print(json ? JSON.stringify(made, undefined, 2) : cleanPlanInWords(made).join("\n"));
  return EXIT.done;
};

/** PROFILE, PROFILE:NUMBER or PROFILE:NUMBER:DIRT. */
const planFor = (order: string): Result<CleanPlan> => {
  const [name = "", number = "1", dirt = "ordinary"] = order.split(":");
  const level = DIRT_IDS.find((id) => id === dirt);
  const profile = load(fileLibrary(), "profiles", name, parseProfile);
  const wrong = [
    ...(/^[1-9]\d{0,3}$/.test(number)
      ? []
      : [problem(order, `"${number}" is not a number of fixtures`, "type it as in spot-16bit:8")]),
    ...(level
      ? []
      : [problem(order, `"${dirt}" is not one of the levels of dirt`, hintFor(dirt, DIRT_IDS) ?? DIRT_IDS.join(", "))]),
    ...(profile.ok ? [] : profile.problems),
  ];
  if (!level || !profile.ok || wrong.length > 0) return bad(...wrong);
  const { value } = profile.value;
  return good(cleanPlanFor(safeText(value.title), mechanismsOf(fittedOf(value)), Number(number), level));
};
