import type { Rack, RackFixture, StartAddress } from "../data/rack/rack.ts";
import { padded, widthOf } from "./wrap.ts";

/** One sheet of A4 or letter paper in an ordinary printer's letters. */
const ROWS = 60;

/**
 * The list to carry to the rack, page by page: by shelf, in the order of the places, with a box to tick at every address
 * that has to be set. `after` are the fixtures of `before` in the same order, with their new addresses.
 */
export const addressList = (before: Rack, after: readonly RackFixture[]): readonly (readonly string[])[] => {
  const entries = after.map((fixture, index) => ({ fixture, was: before.fixtures[index]?.start }));
  const width = widestOf(after);
  const rows = [...new Set(after.map(({ place }) => place.shelf))].flatMap((shelf) => [
    "",
    shelf,
    ...entries.filter(({ fixture }) => fixture.place.shelf === shelf).map((entry) => rowOf(entry, width)),
  ]);
  const toSet = entries.filter((entry) => !stays(entry)).length;
  const heading = `${before.title}: ${toSet} of ${after.length} addresses to set`;
  return pagesOf(rows, ROWS - 1).map((page, index, all) => [
    all.length === 1 ? heading : `${heading}, page ${index + 1} of ${all.length}`,
    ...page,
  ]);
};

interface AddressEntry {
  readonly fixture: RackFixture;
  readonly was: StartAddress | undefined;
}

const widestOf = (fixtures: readonly RackFixture[]) => {
  const widest = (words: readonly string[]) => Math.max(...words.map(widthOf));
  return {
    position: widest(fixtures.map(({ place }) => place.position)),
    serial: widest(fixtures.map(({ serial }) => serial)),
    universe: widest(fixtures.map(({ start }) => String(start?.universe ?? ""))),
  };
};

const stays = ({ fixture: { start }, was }: AddressEntry): boolean =>
  start !== undefined && start.universe === was?.universe && start.slot === was.slot;

const rowOf = (entry: AddressEntry, width: ReturnType<typeof widestOf>): string => {
  const { place, serial, start, profile } = entry.fixture;
  const address = start
    ? `universe ${String(start.universe).padStart(width.universe)}  address ${String(start.slot).padStart(3)}`
    : "no room";
  return [
    `  ${stays(entry) ? "   " : "[ ]"} ${padded(place.position, width.position)}`,
    padded(serial, width.serial),
    address,
    profile.name,
  ].join("  ");
};

const pagesOf = (rows: readonly string[], size: number): readonly (readonly string[])[] =>
  rows.length === 0 ? [] : [rows.slice(0, size), ...pagesOf(rows.slice(size), size)];
