import { keysOf } from "../keys.ts";

/**
 * What gives a fixture its light, with what people are warned of beside the usual cautions. The maker's manual and local rules
 * go before these words; common practice, no source.
 */
const LIGHT_SOURCES = {
  discharge: {
    words: "a discharge lamp",
    caution: "A lamp can burst, hot or cold: face shield and gloves before its cover comes off.",
  },
  led: { words: "LEDs", caution: "" },
  laser: {
    words: "a laser",
    caution:
      "Laser inside: behind its covers only who is trained for it, interlocks stay in force, no eye or mirror in the beam.",
  },
  ultraviolet: {
    words: "an ultraviolet source",
    caution: "Ultraviolet light harms eyes and skin unseen: rated eyewear, skin covered, nobody near the lens.",
  },
} as const;

export type LightSourceId = keyof typeof LIGHT_SOURCES;
export const LIGHT_SOURCE_IDS = keysOf(LIGHT_SOURCES);

/** What this source can do to eyes and skin, in words for the safety page. */
export const sourceCaution = (id: LightSourceId): string => LIGHT_SOURCES[id].caution;
