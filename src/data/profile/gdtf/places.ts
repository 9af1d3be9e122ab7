import type { Element } from "./element.ts";
import { byName, isReference, within } from "./geometry.ts";
import { grouped } from "./grouped.ts";
import { attribute, childrenOf, countIn, mistake, type Reading } from "./reading.ts";

/** One place in the DMX address range where a channel of the description stands. */
export interface Placing {
  /** Which DMXBreak: each has a start address of its own. */
  readonly break: number;
  /** Added to the channel's offsets. */
  readonly shift: number;
}

/** Where the channels of a geometry stand: once as written, or once for every reference to the geometry. */
export type Placings = (geometry: string, channelBreak: number | "overwrite") => readonly Placing[];

/**
 * The geometry references of a mode (DIN SPEC 15800, table 48 and 49): its channels are repeated for each reference, at
 * the offset that the reference gives for the channel's break; the last one given serves "Overwrite".
 */
export const placingsIn = (reading: Reading, mode: Element, geometries: readonly Element[]): Placings => {
  const named = byName(geometries);
  const references = within(named.get(attribute(mode, "Geometry") ?? "")).filter(isReference);
  if (references.length > MOST_REFERENCES)
    mistake(reading, references[0] ?? mode, `${references.length} geometry references`, `at most ${MOST_REFERENCES}`);
  const byGeometry = grouped(
    references.slice(0, MOST_REFERENCES).flatMap((reference) => referred(reference, named)),
    ({ geometry }) => geometry,
  );
  return (geometry, channelBreak) =>
    byGeometry.get(geometry)?.map(({ reference }) => placingBy(reading, reference, channelBreak)) ?? [
      { break: channelBreak === "overwrite" ? 1 : channelBreak, shift: 0 },
    ];
};

/** A universe has 512 slots: more references than that cannot have one each. */
const MOST_REFERENCES = 512;

const referred = (reference: Element, named: ReadonlyMap<string, Element>) =>
  within(named.get(attribute(reference, "Geometry") ?? "")).map((inside) => ({
    geometry: attribute(inside, "Name") ?? "",
    reference,
  }));

const placingBy = (reading: Reading, reference: Element, channelBreak: number | "overwrite"): Placing => {
  const given = childrenOf(reference, "Break").map((element) => ({
    break: countIn(reading, element, "DMXBreak", 1),
    shift: countIn(reading, element, "DMXOffset", 1) - 1,
  }));
  const fitting = channelBreak === "overwrite" ? given.at(-1) : given.find((one) => one.break === channelBreak);
  return fitting ?? { break: channelBreak === "overwrite" ? 1 : channelBreak, shift: 0 };
};
