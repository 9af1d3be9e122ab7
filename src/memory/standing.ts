import type { RunBrief } from "../record/brief.ts";

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
  if (!last) return "unfinished";
  const results = last.steps.map(({ judged }) => judged?.result ?? "not-asked");
  if (results.some((result) => result === "fail" || result === "unsure")) return "failed";
  const whole = results.every((result) => result === "pass" || result === "not-fitted");
  return last.ended === "finished" && whole ? "passed" : "unfinished";
};
