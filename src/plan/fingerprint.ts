import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import type { Profile } from "../data/profile/profile.ts";
import { sampler } from "./sample.ts";
import type { CompiledStep } from "./timeline.ts";

/** SHA-256 over all frames of a step, as hex: two playings with the same fingerprint sent the same bytes. */
export const fingerprint = (profile: Profile, step: CompiledStep): string => {
  const frame = sampler(profile, step);
  const bytes = new Uint8Array(step.frames * profile.slots);
  for (let n = 0; n < step.frames; n++) bytes.set(frame(n), n * profile.slots);
  return bytesToHex(sha256(bytes));
};
