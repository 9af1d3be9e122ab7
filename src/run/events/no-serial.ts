import { identityKey } from "../../domain/problem/identity.ts";

/** Given to the simulated fixture of a practice round, which is no fixture of the shop's. */
export const PRACTICE_SERIAL = "practice";

/** What stands for the serial number of a fixture when nobody gave one: runs of different fixtures may bear it. */
const NO_SERIAL: readonly string[] = ["", "unknown", PRACTICE_SERIAL];

/** Whether a serial number is none: nobody gave one, or it is that of practice. */
export const isNameless = (serial: string): boolean => NO_SERIAL.includes(identityKey(serial));
