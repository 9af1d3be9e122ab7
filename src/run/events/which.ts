import { isSameName } from "../../domain/problem/identity.ts";
import type { RunSummary } from "./summary.ts";

/** Which runs are asked for. */
export type Which =
  | { readonly kind: "all" }
  | { readonly kind: "fixture"; readonly serial: string }
  /** Those whose name begins like this. */
  | { readonly kind: "named"; readonly beginning: string }
  /** How many of the latest runs in which somebody pressed who had given initials. */
  | { readonly kind: "pressed"; readonly latest: number };

/** The runs that are asked about, in the order in which they were begun. */
export const askedOf = (runs: readonly RunSummary[], which: Which): readonly RunSummary[] => {
  switch (which.kind) {
    case "all":
      return runs;
    case "fixture":
      return runs.filter(({ serial }) => isSameName(serial, which.serial));
    case "named":
      return runs.filter(({ run }) => run.startsWith(which.beginning));
    case "pressed":
      return which.latest === 0 ? [] : runs.filter(wasPressed).slice(-which.latest);
    default:
      return which satisfies never;
  }
};

/** Whether somebody whose initials are known pressed in this run. */
export const wasPressed = ({ person, steps }: RunSummary): boolean =>
  person !== "" && steps.some(({ presses }) => presses > 0);
