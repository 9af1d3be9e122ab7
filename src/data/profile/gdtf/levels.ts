import type { Level } from "../../../domain/units.ts";
import type { Raw } from "../profile.ts";

/** A stretch of the coarse slot, both ends included. */
export interface Stretch {
  readonly from: Level;
  readonly to: Level;
}

/**
 * The levels of the coarse slot that lie in a stretch of the whole channel while its fine slots stand at 0; undefined
 * where none does. Shutters, wheels and commands are driven by the coarse slot alone.
 */
export const coarseOf = (
  { from, to }: { readonly from: Raw; readonly to: Raw },
  bytes: number,
): Stretch | undefined => {
  const step = 256 ** (bytes - 1);
  const stretch = { from: Math.ceil(from / step), to: Math.floor(to / step) };
  return stretch.from <= stretch.to ? stretch : undefined;
};

export const middleOf = ({ from, to }: Stretch): Level => Math.floor((from + to) / 2);
