import type { Problem } from "../../domain/problem/problem.ts";
import type { AtFixture } from "./at-fixture.ts";
import { type Addressed, hasStart, type Rack, type RackFixture } from "./rack.ts";
import { alike, ganged, lastSlot, overlap, SLOTS } from "./slots.ts";

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
  const other = before.find((one) => overlap(one, fixture) && !(ganged(one, fixture) && alike(one, fixture)));
  if (!other) return [];
  return ganged(other, fixture)
    ? [at(fixture, "profile", mixed(fixture, other))]
    : [at(fixture, "address", { message: clash(fixture, other), hint: CLASH })];
};

const clash = (fixture: Addressed, other: Addressed): string =>
  `slots ${fixture.start.slot} to ${lastSlot(fixture)} overlap ${other.serial}, which has ${other.start.slot} to ${lastSlot(other)}`;

const CLASH = '"limber rack address" proposes others; fixtures that share one on purpose each say ganged: true';

const mixed = (fixture: Addressed, other: Addressed) => ({
  message: `${fixture.profile.name} shares an address with ${other.serial}, which is ${other.profile.name}`,
  hint: "fixtures on one address are of one kind, all in the same mode",
});
