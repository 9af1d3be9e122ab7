import { cellsOf, type FunctionSpec, type Profile, physicalOf, type Raw } from "../data/profile/profile.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
import type { Frame } from "../domain/units.ts";
import { darkRaw } from "./base.ts";
import type { CompiledStep, Move } from "./timeline.ts";

/**
 * The slots of the fixture at a frame of a step: exact, and the same at every playing. Past the end it stands still.
 *
 * @param n - whole frames of 25 ms from the start of the step, 0 or more
 * @returns one byte for each slot, slot 1 first
 */
export const sample = (profile: Profile, step: CompiledStep, n: Frame): Uint8Array => sampler(profile, step)(n);

/** Does what `sample` does for many frames of one step: what stands still is written once. */
export const sampler = (profile: Profile, step: CompiledStep): ((n: Frame) => Uint8Array) => {
  const still = heldOnly(profile);
  for (const [id, spec] of profile.functions) writeAll(still, spec, step.start.get(id) ?? 0);
  const moving = [...profile.functions].flatMap(([id, spec]) => {
    const moves = step.moves.filter((move) => move.function === id);
    return moves.length > 0 ? [{ spec, start: step.start.get(id) ?? 0, moves }] : [];
  });
  return (n) => {
    const slots = still.slice();
    for (const { spec, start, moves } of moving) writeAll(slots, spec, valueAt(moves, start, n));
    return slots;
  };
};

/** The slots of the fixture at rest: dark, and nothing moves. One byte for each slot, slot 1 first. */
export const sampleRest = (profile: Profile): Uint8Array => {
  const slots = heldOnly(profile);
  for (const [id, spec] of profile.functions) writeAll(slots, spec, profile.rest.get(id) ?? 0);
  return slots;
};

/** The slots that no function moves. */
const heldOnly = (profile: Profile): Uint8Array => {
  const slots = new Uint8Array(profile.slots);
  for (const { slots: at, at: raw } of profile.held) write(slots, at, raw);
  return slots;
};

/** The frame of a stop, made from the frame that was sent last: no light, and no other slot changes. */
export const darkened = (profile: Profile, slots: Uint8Array): Uint8Array => {
  const after = slots.slice();
  for (const [id, spec] of profile.functions) {
    const raw = darkRaw(profile, id);
    if (raw !== undefined) writeAll(after, spec, raw);
  }
  return after;
};

/**
 * The commanded raw value of a function.
 *
 * @param n - whole frames of 25 ms from the start of the step, 0 or more
 * @returns a whole number over all slots of the function, 0 where the step says nothing of it
 */
export const rawAt = (step: Pick<CompiledStep, "start" | "moves">, id: FunctionId, n: Frame): Raw =>
  valueAt(
    step.moves.filter((move) => move.function === id),
    step.start.get(id) ?? 0,
    n,
  );

/**
 * The commanded place of a travelling function.
 *
 * @param n - whole frames of 25 ms from the start of the step, 0 or more
 * @returns degrees for axes, else percent; undefined for a function that has no travel
 */
export const placeAt = (profile: Profile, step: CompiledStep, id: FunctionId, n: Frame): number | undefined => {
  const spec = profile.functions.get(id);
  return spec?.kind === "travel" ? physicalOf(spec, rawAt(step, id, n)) : undefined;
};

/** The last move that has begun decides. */
const valueAt = (moves: readonly Move[], start: Raw, n: Frame): Raw => {
  const move = moves.findLast((one) => one.start <= n);
  return move ? along(move, n) : start;
};

const along = ({ from, to, start, frames }: Move, n: Frame): Raw =>
  n >= start + frames ? to : Math.round(from + ((to - from) * (n - start)) / frames);

const writeAll = (slots: Uint8Array, spec: FunctionSpec, raw: Raw): void => {
  for (const cell of cellsOf(spec)) write(slots, cell, raw);
};

/** Big-endian over one run of slots, coarse first. */
const write = (slots: Uint8Array, at: readonly number[], raw: Raw): void => {
  at.forEach((slot, index) => {
    slots[slot - 1] = Math.floor(raw / 256 ** (at.length - 1 - index)) % 256;
  });
};
