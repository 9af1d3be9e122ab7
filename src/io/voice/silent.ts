import type { Voice } from "../../run/ports.ts";

/** Says nothing: for runs without a person. */
export const silentVoice: Voice = { say: () => {}, bell: () => {} };
