import type { Problem } from "../problem/problem.ts";
import type { AtFixture } from "./at-fixture.ts";
import { hasStart, lastSlot, type Rack, type RackFixture, type StartAddress } from "./rack.ts";

type Addressed = RackFixture & { readonly start: StartAddress };

/** DMX512 has 512 slots (ANSI E1.11). */
export const SLOTS = 512;

/** Every fixture needs an address that ends by 512, on a universe with a DMX line, in nobody's way. */
export const checkAddresses = (rack: Rack, at: AtFixture): readonly Problem[] => {
  const addressed = rack.fixtures.filter(hasStart);
  return [
    ...rack.fixtures.filter((fixture) => !hasStart(fixture)).map((fixture) => noAddress(fixture, at)),
    ...addressed.filter((fixture) => lastSlot(fixture) > SLOTS).map((fixture) => pastTheEnd(fixture, at)),
    ...addressed.flatMap((fixture) => withoutLine(rack, fixture, at)),
    ...addressed.flatMap((fixture, index) => inTheWay(addressed.slice(0, index), fixture, at)),
  ];
};

const noAddress = (fixture: RackFixture, at: AtFixture): Problem =>
  at(fixture, "serial", {
    message: `${fixture.serial} has no address yet`,
    hint: '"limber rack address" proposes addresses',
  });

const pastTheEnd = (fixture: Addressed, at: AtFixture): Problem =>
  at(fixture, "address", {
    message: `start address ${fixture.start.slot} and ${fixture.profile.slots} slots end at ${lastSlot(fixture)}, past ${SLOTS}`,
    hint: `at most ${SLOTS - fixture.profile.slots + 1}`,
  });

const withoutLine = ({ lines }: Rack, fixture: Addressed, at: AtFixture): readonly Problem[] =>
  lines.some(({ universe }) => universe === fixture.start.universe)
    ? []
    : [
        at(fixture, "universe", {
          message: `universe ${fixture.start.universe} has no DMX line in this file`,
          hint: `universes that have one: ${[...new Set(lines.map(({ universe }) => universe))].join(", ")}`,
        }),
      ];

/** The first fixture before it in the file that hears one of its slots, unless both share their address on purpose. */
const inTheWay = (before: readonly Addressed[], fixture: Addressed, at: AtFixture): readonly Problem[] => {
  const other = before.find((one) => overlap(one, fixture) && !sharedOnPurpose(one, fixture));
  if (!other) return [];
  const gang = fixture.ganged && other.ganged && sameStart(fixture, other);
  return [
    at(
      fixture,
      gang ? "profile" : "address",
      gang ? mixed(fixture, other) : { message: clash(fixture, other), hint: CLASH },
    ),
  ];
};

const overlap = (one: Addressed, other: Addressed): boolean =>
  one.start.universe === other.start.universe && one.start.slot <= lastSlot(other) && other.start.slot <= lastSlot(one);

const sameStart = (one: Addressed, other: Addressed): boolean =>
  one.start.universe === other.start.universe && one.start.slot === other.start.slot;

const sharedOnPurpose = (one: Addressed, other: Addressed): boolean =>
  one.ganged && other.ganged && sameStart(one, other) && one.profile.name === other.profile.name;

const clash = (fixture: Addressed, other: Addressed): string =>
  `slots ${fixture.start.slot} to ${lastSlot(fixture)} overlap ${other.serial}, which has ${other.start.slot} to ${lastSlot(other)}`;

const CLASH = '"limber rack address" proposes others; fixtures that share one on purpose each say ganged: true';

const mixed = (fixture: Addressed, other: Addressed) => ({
  message: `${fixture.profile.name} shares an address with ${other.serial}, which is ${other.profile.name}`,
  hint: "fixtures on one address are of one kind, all in the same mode",
});
