import { randomBytes } from "node:crypto";
import type { Command, Option } from "commander";
import type { ExitCode } from "./exit.ts";

/** Commands that belong together: adds them to the program. What they do is imported only when one is chosen, so that the program starts quickly. */
export type Family = (program: Command, ends: Ends) => void;

/** Hands over what a chosen command does; its exit code becomes the program's. */
type Ends = (work: ExitCode | Promise<ExitCode>) => Promise<void>;

/** A command with these options, in the order in which help lists them. */
export const taking = (command: Command, ...options: readonly Option[]): Command =>
  options.reduce((sum, option) => sum.addOption(option), command);

/** A name for a new run: it sorts by time, tells two benches apart, and is short enough to be read aloud. */
export const runName = (): string => {
  const time = new Date().toISOString().replaceAll(/[-:]/g, "").replace("T", "-").slice(0, 13);
  return `${time}-${randomBytes(3).toString("hex")}`;
};
