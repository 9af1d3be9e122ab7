import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex } from "@noble/hashes/utils.js";
import type { Profile, Raw } from "../data/profile/profile.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
import type { RoutineId } from "../domain/trade/routines.ts";
import type { Frame } from "../domain/units.ts";
import { MOST_FLASHES, mostFlashes } from "./flashes.ts";
import { sampler } from "./sample.ts";
import { mechanicalFloor } from "./score.ts";
import type { CompiledStep } from "./timeline.ts";

/** A compiled step as the journal keeps it: plain, short, and enough to send the very same frames again years later. */
export interface StoredStep {
  readonly id: string;
  readonly routine: RoutineId;
  readonly functions: FunctionId[];
  readonly fitted: boolean;
  readonly watch: string;
  readonly frames: Frame;
  readonly lead_in: Frame;
  readonly start: [FunctionId, Raw][];
  /** Function, from, to, start frame, frames. */
  readonly moves: [FunctionId, Raw, Raw, Frame, Frame][];
  readonly beam: "open" | "shut";
  readonly notes: string[];
  readonly line: number;
}

const toStored = (step: CompiledStep): StoredStep => ({
  id: step.id,
  routine: step.routine,
  functions: [...step.functions],
  fitted: step.fitted,
  watch: step.watch,
  frames: step.frames,
  lead_in: step.leadIn,
  start: [...step.start],
  moves: step.moves.map(({ function: id, from, to, start, frames }) => [id, from, to, start, frames]),
  beam: step.beam,
  notes: [...step.notes],
  line: step.line,
});

/** The stored step and the SHA-256 of its frames, as a run keeps it. */
export const plannedStep = (profile: Profile, step: CompiledStep): StoredStep & { readonly fingerprint: string } => ({
  ...toStored(step),
  fingerprint: step.fitted ? fingerprint(profile, step) : "",
});

/**
 * A compiled step as it was kept with a run: it sends the same frames, whatever the compiler does today.
 *
 * @param profile - as it was kept with the same run
 */
export const fromStored = (profile: Profile, stored: StoredStep): CompiledStep => {
  const moves = stored.moves.map(([id, from, to, start, frames]) => ({ function: id, from, to, start, frames }));
  const { id, routine, functions, fitted, watch, frames, beam, notes, line } = stored;
  const floor = mechanicalFloor(profile, moves);
  const start = new Map(stored.start);
  const flashes = mostFlashes(profile, { frames, start, moves });
  return {
    id,
    routine,
    functions,
    // Kept by a release that let it flash: it is not played any more.
    fitted: fitted && flashes <= MOST_FLASHES,
    watch,
    frames,
    leadIn: stored.lead_in,
    start,
    moves,
    beam,
    flashes,
    notes,
    floor,
    pace: 1,
    line,
  };
};

/** SHA-256 over all frames of a step, as hex: two playings with the same fingerprint sent the same bytes. */
export const fingerprint = (profile: Profile, step: CompiledStep): string => {
  const frame = sampler(profile, step);
  const bytes = new Uint8Array(step.frames * profile.slots);
  for (let n = 0; n < step.frames; n++) bytes.set(frame(n), n * profile.slots);
  return bytesToHex(sha256(bytes));
};
