/** What stands for the serial number of a fixture when nobody gave one: runs of different fixtures may bear it. */
export const NO_SERIAL = "unknown";
