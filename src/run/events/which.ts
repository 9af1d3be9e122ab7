import { identityKey, isSameName } from "../../domain/problem/identity.ts";
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

/** Given to the simulated fixture of a practice round, which is no fixture of the shop's. */
export const PRACTICE_SERIAL = "practice";

/** What stands for the serial number of a fixture when nobody gave one: runs of different fixtures may bear it. */
const NO_SERIAL: readonly string[] = ["", "unknown", PRACTICE_SERIAL];

/** Whether a serial number is none: nobody gave one, or it is that of practice. */
export const isNameless = (serial: string): boolean => NO_SERIAL.includes(identityKey(serial));
