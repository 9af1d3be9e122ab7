import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Lux, Metres, Seconds } from "../../domain/units.ts";
import type { RackFixture } from "./rack.ts";

/** What was measured of one fixture; each part may be missing. */
export interface Readings {
  readonly fixture: RackFixture;
  readonly light: { readonly lux: Lux; readonly at: Metres } | undefined;
  /** CIE 1931 chromaticity. */
  readonly colour: { readonly x: number; readonly y: number } | undefined;
  /** From one end to the other. */
  readonly travel: ReadonlyMap<FunctionId, Seconds>;
}

/**
 * The light at another distance: four times as far, a sixteenth (inverse square law). Holds for a source that is small
 * beside the distance; a narrow beam from a lens follows it only roughly, so that distances had better differ little.
 */
export const luxAt = ({ lux, at }: { readonly lux: Lux; readonly at: Metres }, metres: Metres): Lux =>
  lux * (at / metres) ** 2;

/**
 * The distance that most readings were taken at, the first of them where several are as frequent, so that the fewest
 * readings are converted; undefined where there are none.
 */
export const usualDistance = (distances: readonly Metres[]): Metres | undefined => {
  const count = (metres: Metres) => distances.filter((one) => one === metres).length;
  return distances.reduce<Metres | undefined>(
    (most, one) => (most === undefined || count(one) > count(most) ? one : most),
    undefined,
  );
};
