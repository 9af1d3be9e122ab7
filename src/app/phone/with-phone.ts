import { type ExitCode, refuse } from "../common/output.ts";
import type { Phone } from "./beside.ts";

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
  const { openPhone } = await import("./phone.ts");
  const address = phone === true ? "" : phone;
  const opened = await openPhone({ address, certificate: phoneCertificate, most: Math.max(1, phones) }, journal);
  if (!opened.ok) return refuse(opened.problems);
  try {
    return await work(opened.value);
  } finally {
    await opened.value?.close();
  }
};
