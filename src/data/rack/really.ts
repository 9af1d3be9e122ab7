import {
  ganged,
  hasStart,
  overlap,
  placeInWords,
  type Rack,
  type RackFixture,
  type StartAddress,
  startInWords,
} from "./rack.ts";

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
