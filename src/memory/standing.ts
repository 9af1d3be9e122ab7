import { passedWhole, type RunBrief } from "../record/brief.ts";

/** Where a fixture stands by what its runs say. Nothing here calls a fixture safe to use. */
export type Standing = "passed" | "failed" | "unfinished";

export const STANDINGS: Readonly<Record<Standing, string>> = {
  failed: "failed its last run",
  unfinished: "its last run was not finished",
  passed: "passed its last run",
};

/** By its last run. "Passed" wants every step that fits it judged a pass. */
export const standingOf = (runs: readonly RunBrief[]): Standing => {
  const last = runs.at(-1);
  if (last?.steps.some(({ result }) => result === "fail" || result === "unsure")) return "failed";
  return last && passedWhole(last) ? "passed" : "unfinished";
};
