/** What stands for the serial number of a fixture when nobody gave one: runs of different fixtures may bear it. */
const NO_SERIAL: readonly string[] = ["", "unknown"];

export const isNameless = (serial: string): boolean => NO_SERIAL.includes(serial.trim());
