import { overloaded } from "./power.ts";
import {
  type Addressed,
  ganged,
  hasStart,
  isSameMode,
  lastSlot,
  overlap,
  type Rack,
  type RackFixture,
  SLOTS,
  type StartAddress,
} from "./rack.ts";

/** An address for every fixture that there is room for. */
export interface AddressPlan {
  /** In the order of the rack. */
  readonly fixtures: readonly RackFixture[];
  /** Fixtures that found no room on any DMX line of the rack; they have no address in the plan. */
  readonly left: readonly RackFixture[];
}

/**
 * Gives every fixture, in the order of the rack, the first free stretch of slots on the first DMX line that has one: none
 * overlaps, none is split between universes, and a fixture added at the end changes nothing for those before it. Ganged
 * ones of a kind share theirs. "keep" leaves existing addresses alone unless they are in the way of an earlier one.
 */
export const planAddresses = (rack: Rack, existing: "keep" | "anew"): AddressPlan => {
  const given = new Map<RackFixture, Addressed>();
  const known = ({ start }: Addressed): boolean => rack.lines.some(({ universe }) => universe === start.universe);
  for (const fixture of existing === "keep" ? rack.fixtures.filter(hasStart).filter(known) : [])
    if (hasRoom(on(fixture.start.universe, given), fixture)) given.set(fixture, fixture);
  for (const fixture of rack.fixtures.filter((one) => !given.has(one))) {
    const start = roomFor(rack, given, fixture);
    if (start) given.set(fixture, { ...fixture, start });
  }
  return {
    fixtures: rack.fixtures.map((fixture) => given.get(fixture) ?? { ...fixture, start: undefined }),
    left: rack.fixtures.filter((fixture) => !given.has(fixture)),
  };
};

type GivenAddresses = ReadonlyMap<RackFixture, Addressed>;

const on = (universe: number, given: GivenAddresses): readonly Addressed[] =>
  [...given.values()].filter(({ start }) => start.universe === universe);

const roomFor = ({ lines }: Rack, given: GivenAddresses, fixture: RackFixture): StartAddress | undefined => {
  for (const { universe } of lines) {
    const here = on(universe, given);
    const start = startsToTry(here, fixture)
      .map((slot) => ({ universe, slot }))
      .find((one) => hasRoom(here, { ...fixture, start: one }));
    if (start) return start;
  }
  return undefined;
};

/** Where its gang stands, then every place where a gap may begin. */
const startsToTry = (here: readonly Addressed[], fixture: RackFixture): readonly number[] => [
  ...here.filter((other) => fixture.ganged && other.ganged).map(({ start }) => start.slot),
  ...[1, ...here.map((other) => lastSlot(other) + 1)].sort((a, b) => a - b),
];

/** It ends by 512, is in nobody's way, and the cable can drive it. */
const hasRoom = (here: readonly Addressed[], fixture: Addressed): boolean =>
  lastSlot(fixture) <= SLOTS &&
  here.every((other) => !overlap(other, fixture) || (ganged(other, fixture) && isSameMode(other, fixture))) &&
  overloaded([...here, fixture]).length === 0;
