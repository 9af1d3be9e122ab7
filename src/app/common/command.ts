import { randomBytes } from "node:crypto";
import type { Command, Option } from "commander";
import type { Phone } from "../phone/beside.ts";
import { type ExitCode, refuse } from "./output.ts";

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

/** Whether and how a phone is wanted, as the options of a command say it. */
export interface PhoneGiven {
  readonly phone?: string | true;
  readonly phoneCertificate?: string;
  readonly phones: number;
  readonly journal: string;
}

/** A command's work with a phone beside it where one was asked for; else nothing of it is loaded and nothing listens. */
export const withPhone = async (
  { phone, phoneCertificate, phones, journal }: PhoneGiven,
  work: (phone: Phone | undefined) => Promise<ExitCode>,
): Promise<ExitCode> => {
  if (phone === undefined) return work(undefined);
  const { openPhone } = await import("../phone/phone.ts");
  const address = phone === true ? "" : phone;
  const opened = await openPhone({ address, certificate: phoneCertificate, most: Math.max(1, phones) }, journal);
  if (!opened.ok) return refuse(opened.problems);
  try {
    return await work(opened.value);
  } finally {
    await opened.value?.close();
  }
};
