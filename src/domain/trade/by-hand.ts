import { keysOf } from "../keys.ts";

/** What a sequence can ask for by hand between its movements: keys of sequence files, with the words a technician hears. Common practice, no source. */
const BY_HAND = {
  "hold-point": "hold point",
  inspect: "inspection",
  clean: "clean",
  reading: "measure",
} as const;

export type ByHandId = keyof typeof BY_HAND;
export const BY_HAND_IDS = keysOf(BY_HAND);
