import { overloaded } from "./power.ts";
import {
  type Addressed,
  ganged,
  hasStart,
  isSameMode,
  lastSlot,
  overlap,
  placeInWords,
  type Rack,
  type RackFixture,
  SLOTS,
  type StartAddress,
  startInWords,
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

/** One answer at the rack: a fixture was asked to move at its address, and these did, by their serials. */
export interface MovedAnswer {
  readonly asked: string;
  /** None, one, or several. */
  readonly moved: readonly string[];
}

/** A rack as its fixtures are really set. */
export interface Really {
  /** In the order of the rack, each with the address that it moved at; those that moved at none keep what the file says. */
  readonly fixtures: readonly RackFixture[];
  /** What to look at before the rack is used, a sentence each. */
  readonly open: readonly string[];
  /** Fixtures that would be in each other's way at these addresses, a sentence each: such a list is not written. */
  readonly clashes: readonly string[];
}

/** From what really moved, one fixture asked after the other, to the addresses that are really set at the panels. */
export const reallySet = (rack: Rack, answers: readonly MovedAnswer[]): Really => {
  const heard = rack.fixtures.map((fixture) => ({ fixture, askers: askersOf(rack, answers, fixture) }));
  const fixtures = heard.map(({ fixture, askers }) => settled(fixture, askers));
  return {
    fixtures,
    clashes: clashesIn(fixtures),
    open: [
      ...answers.flatMap((answer) => crowd(rack, answer)),
      ...heard.flatMap(({ fixture, askers }) => doubts(answers, fixture, askers)),
    ],
  };
};

/** From fixtures that showed themselves and say where they listen; who did not keeps what the file says. */
export const reallyAt = (rack: Rack, starts: ReadonlyMap<string, StartAddress>): Really => {
  const fixtures = rack.fixtures.map((fixture) => ({ ...fixture, start: starts.get(fixture.serial) ?? fixture.start }));
  return {
    fixtures,
    clashes: clashesIn(fixtures),
    open: rack.fixtures
      .filter(({ serial }) => !starts.has(serial))
      .map((fixture) => `${named(fixture)} did not show itself: read its panel, or ask by moving them (--rdm never).`),
  };
};

/** Whoever was not asked keeps the file's address, which may be the very one at which another was found. */
const clashesIn = (fixtures: readonly RackFixture[]): readonly string[] =>
  fixtures.filter(hasStart).flatMap((fixture, index, all) => {
    const other = all.slice(0, index).find((one) => overlap(one, fixture) && !ganged(one, fixture));
    return other ? [`${named(other)} and ${named(fixture)} would both listen at ${startInWords(fixture.start)}.`] : [];
  });

/** Where the rack file says something else than what is really set, a sentence each. */
export const wrongInFile = (rack: Rack, { fixtures }: Really): readonly string[] =>
  fixtures.flatMap((fixture, index) => {
    const [really, file] = [fixture.start, rack.fixtures[index]?.start].map(startInWords);
    return really === file ? [] : [`${named(fixture)} is set to ${really}; the file says ${file}.`];
  });

/** The fixtures at whose address this one moved. */
const askersOf = (
  { fixtures }: Rack,
  answers: readonly MovedAnswer[],
  { serial }: RackFixture,
): readonly RackFixture[] =>
  fixtures.filter((one) => answers.some(({ asked, moved }) => asked === one.serial && moved.includes(serial)));

/** Another kind or mode may move at an address that is not where it starts. */
const settled = (fixture: RackFixture, askers: readonly RackFixture[]): RackFixture => {
  const [asker, ...more] = askers;
  return asker && more.length === 0 && asker.profile.name === fixture.profile.name
    ? { ...fixture, start: asker.start }
    : fixture;
};

const crowd = ({ fixtures }: Rack, { asked, moved }: MovedAnswer): readonly string[] => {
  const asker = fixtures.find(({ serial }) => serial === asked);
  const together = fixtures.filter(({ serial }) => moved.includes(serial));
  return together.length < 2 || together.every(({ ganged }) => ganged)
    ? []
    : [
        `${together.map(named).join(" and ")} move together at ${startInWords(asker?.start)}: set all but one of them anew.`,
      ];
};

const doubts = (
  answers: readonly MovedAnswer[],
  fixture: RackFixture,
  askers: readonly RackFixture[],
): readonly string[] => {
  const asked = answers.some((answer) => answer.asked === fixture.serial);
  if (askers.length === 0)
    return asked ? [`${named(fixture)} moved at no address: is it on, in its mode, and does data reach it?`] : [];
  if (askers.length > 1)
    return [
      `${named(fixture)} moves at ${askers.map(({ start }) => startInWords(start)).join(" and at ")}: read its panel.`,
    ];
  return askers[0]?.profile.name === fixture.profile.name
    ? []
    : [`${named(fixture)} moves at ${startInWords(askers[0]?.start)}, where another kind stands: read its panel.`];
};

const named = ({ serial, place }: RackFixture): string => `${serial} (${placeInWords(place)})`;
