import type { RunBrief } from "./brief.ts";

/** Which runs are asked for: all, those of one fixture, or those whose name begins like this. */
export type Which =
  | { readonly kind: "all" }
  | { readonly kind: "fixture"; readonly serial: string }
  | { readonly kind: "named"; readonly beginning: string };

export const isAsked = (which: Which, { run, serial }: RunBrief): boolean => {
  switch (which.kind) {
    case "all":
      return true;
    case "fixture":
      return serial === which.serial;
    case "named":
      return run.startsWith(which.beginning);
    default:
      return which satisfies never;
  }
};
