import { placeInWords, type Rack, type RackFixture, startInWords } from "../../data/rack/rack.ts";
import type { FixtureIdentity } from "./identity.ts";

/** One fixture that answered, and on which universe. */
export interface FoundFixture {
  readonly universe: number;
  readonly identity: FixtureIdentity;
}

/** A found fixture beside what the rack file says of it. */
export interface RosterRow extends FoundFixture {
  /** The one of the rack file that it is; undefined for a stranger. */
  readonly fixture: RackFixture | undefined;
  /** What is not as the file says, or in another's way, a sentence each. */
  readonly wrong: readonly string[];
}

/** Who is plugged into the lines, and who should be. */
export interface Roster {
  readonly rows: readonly RosterRow[];
  /** In the rack file, but nobody answered for them. */
  readonly missing: readonly RackFixture[];
}

/** What is found on the cable beside what a rack file says; without a rack, only clashes among those found. */
export const rosterOf = (found: readonly FoundFixture[], rack: Rack | undefined): Roster => {
  const known = found.map((one) => ({ ...one, fixture: rack && fixtureOf(rack, one.identity) }));
  const rows = known.map((row, index) => ({
    ...row,
    wrong: [
      ...(row.fixture ? wrongSetting(row, row.fixture) : []),
      ...known.slice(0, index).flatMap((other) => inTheWay(row, other)),
      ...row.identity.troubles,
    ],
  }));
  return {
    rows,
    missing: rack?.fixtures.filter((fixture) => !known.some((one) => one.fixture === fixture)) ?? [],
  };
};

/** The fixture of the rack file with this UID, else with the serial number or label that the fixture itself gives. */
const fixtureOf = ({ fixtures }: Rack, { uid, serial, label }: FixtureIdentity): RackFixture | undefined => {
  const same = (one: string, other: string) => one !== "" && one.trim().toLowerCase() === other.trim().toLowerCase();
  return (
    fixtures.find((one) => one.uid !== undefined && same(one.uid, uid)) ??
    fixtures.find((one) => one.uid === undefined && same(serial, one.serial)) ??
    fixtures.find((one) => one.uid === undefined && same(label, one.serial))
  );
};

const wrongSetting = ({ universe, identity }: FoundFixture, { start, profile }: RackFixture): readonly string[] => {
  const { address, mode } = identity;
  const is = address === undefined ? undefined : { universe, slot: address };
  const elsewhere = start && is && startInWords(is) !== startInWords(start);
  return [
    ...(elsewhere ? [`It listens at ${startInWords(is)}; the rack file says ${startInWords(start)}.`] : []),
    ...(mode && mode.slots !== profile.slots
      ? [`It is in mode ${modeInWords(identity)}; its profile ${profile.name} has ${profile.slots} slots.`]
      : []),
  ];
};

/** The mode that a fixture is in, in words: "2 of 3, Extended, 32 slots". */
export const modeInWords = ({ mode }: FixtureIdentity): string =>
  mode === undefined
    ? "not said"
    : `${mode.number} of ${mode.count}${mode.name === "" ? "" : `, ${mode.name}`}, ${mode.slots} slots`;

const inTheWay = (
  row: FoundFixture & { readonly fixture: RackFixture | undefined },
  other: typeof row,
): readonly string[] => {
  if (row.universe !== other.universe) return row.fixture && row.fixture === other.fixture ? [twice(other)] : [];
  const [mine, its] = [slotsOf(row), slotsOf(other)];
  const meant = row.fixture?.ganged && other.fixture?.ganged && mine?.first === its?.first;
  const clash = mine && its && !meant && mine.first <= its.last && its.first <= mine.last;
  return [
    ...(clash
      ? [`Its slots ${mine.first} to ${mine.last} overlap ${named(other)}, which has ${its.first} to ${its.last}.`]
      : []),
    ...(row.fixture && row.fixture === other.fixture ? [twice(other)] : []),
  ];
};

const twice = (other: FoundFixture) => `${other.identity.uid} says that it is the same fixture.`;

const slotsOf = ({ identity: { address, mode } }: FoundFixture) =>
  address === undefined || !mode || mode.slots === 0 ? undefined : { first: address, last: address + mode.slots - 1 };

const named = ({
  fixture,
  identity,
}: {
  readonly fixture: RackFixture | undefined;
  readonly identity: FixtureIdentity;
}) => (fixture ? `${fixture.serial} (${placeInWords(fixture.place)})` : identity.uid);
