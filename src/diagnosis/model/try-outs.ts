import type { Probability } from "../../domain/units.ts";
import { type CircumstanceId, untriedIn } from "./circumstances.ts";
import type { Weighed } from "./evidence.ts";
import { type FaultId, isFault } from "./knowledge/faults.ts";
import { quietness } from "./looks.ts";
import { type Observation, withFunctions } from "./observation.ts";
import type { Fitted, MovingPart } from "./places.ts";
import { asPlayed, type Drivable, minutesOf, type PlayedTest, type Probe, testedIn } from "./probe.ts";
import { probesFor, warmedMeanwhile } from "./probes.ts";
import type { Learned } from "./shop.ts";
import { showingsAfter } from "./showing.ts";
import { sayMayShow } from "./telling.ts";

/** Tests where nothing speaks for a fault, played one after the other by one key: they may bring one to light. */
export interface TryOut {
  readonly kind: "try-out";
  /** One or more. */
  readonly tests: readonly PlayedTest[];
  /** With what one key, the ways to where the steps begin and their questions take. */
  readonly minutes: number;
  readonly reason: string;
  /** How likely it is that a fault shows in it. */
  readonly chance: Probability;
}

/** What a check did not show, and the tests that would most likely bring something to light. */
interface TryOuts {
  readonly untried: readonly CircumstanceId[];
  readonly offers: readonly TryOut[];
}

/** Faults less likely than this bring nothing to light. */
const NEGLIGIBLE: Probability = 0.001;
/** Less than one fixture in five hundred would show something: nobody is asked to stand by for that. Judgement. */
const WORTH_TRYING: Probability = 0.002;
/** It takes seconds of somebody who stands by already, and is one thing less that was not tried. Judgement. */
const WORTH_JOINING: Probability = 0.0001;
const MOST_ASKED = 2;

/**
 * With nothing that speaks for a fault there are no answers to tell apart. Of what was not tried, the one of each kind that
 * brings most to light in a minute. What takes seconds is played in one go, so that a key and everybody clear is paid for
 * once; what has to get hot is looked at as a whole, and what takes seconds is watched while it warms up, for nobody waits
 * idly. Then the order that finds a single fault soonest: descending probability per minute (Sidney 1975, as for looks). What
 * the same movements would show as usual is not counted. Before all that, a part on which something was reported that nothing
 * explains is tried again.
 */
export function tryOuts(
  fitted: readonly Fitted[],
  observations: readonly Observation[],
  weighed: Weighed,
  posteriors: Readonly<Record<string, Probability>>,
  learned: Learned,
  drivable: Drivable,
  asked: readonly MovingPart[],
): TryOuts {
  const faults = Object.entries(posteriors).flatMap(([id, probability]): readonly Believed[] =>
    isFault(id) && probability >= NEGLIGIBLE ? [{ id, probability }] : [],
  );
  const showingsOf = showingsAfter(fitted, observations, weighed, learned, new Set(faults.map(({ id }) => id)));
  const showsIn = (probe: Probe): Candidate["shows"] => {
    const showings = showingsOf(probe) ?? [];
    return new Map(faults.map(({ id }) => [id, 1 - quietness(showings, id)]));
  };
  const showsAnew = (probe: Probe): Candidate["shows"] => {
    const usually = probe.usually.map((steps) => showsIn({ ...probe, steps }));
    const asUsual = (id: FaultId) => Math.max(0, ...usually.map((shows) => shows.get(id) ?? 0));
    return new Map([...showsIn(probe)].map(([id, shows]) => [id, Math.max(0, shows - asUsual(id))]));
  };
  const untried = untriedIn(withFunctions(fitted, observations));
  const probes = probesFor(fitted, drivable, observations.at(-1)?.litMinutes ?? 0);
  const others = probes
    .filter((probe) => isOther(probe, untried))
    .map((probe) => tried(probe, showsAnew(probe), faults));
  const again = asked.slice(0, MOST_ASKED).flatMap((part) =>
    mostFirst(probes.filter((probe) => isAbout(probe, part)).map((probe) => tried(probe, showsIn(probe), faults)))
      .filter(({ chance }) => chance > 0)
      .slice(0, 1)
      .map((one) => tryOutOf([one], faults)),
  );
  return { untried, offers: [...again, ...mostFirst(offersOf(oneOfEach(mostFirst(others)), faults))] };
}

/** The tests of seconds in one go; and the same while it warms up, then what is looked at hot. */
function offersOf(others: readonly Candidate[], faults: readonly Believed[]): readonly TryOut[] {
  const short = others.filter(({ probe, chance }) => probe.under !== "hot" && chance >= WORTH_JOINING);
  const inOneGo = short.length > 0 ? [tryOutOf(short, faults)] : [];
  const hot = others.filter(({ probe, chance }) => probe.under === "hot" && chance >= WORTH_TRYING);
  return [
    ...inOneGo.filter(({ chance }) => chance >= WORTH_TRYING),
    ...hot.map((one) => {
      const before = short.map(({ probe }) => probe);
      return {
        ...tryOutOf([...short, { ...one, probe: warmedMeanwhile(one.probe, before) }], faults),
        reason: sayMayShow(named([one], faults)),
      };
    }),
  ];
}

interface Believed {
  readonly id: FaultId;
  readonly probability: Probability;
}

/** A test, with what it brings to light: by itself. */
interface Candidate {
  readonly probe: Probe;
  readonly minutes: number;
  /** How likely each fault shows in it, if it is there. */
  readonly shows: ReadonlyMap<FaultId, Probability>;
  readonly chance: Probability;
}

const tried = (probe: Probe, shows: Candidate["shows"], faults: readonly Believed[]): Candidate => ({
  probe,
  shows,
  minutes: minutesOf([probe]),
  chance: chanceOf([{ shows }], faults),
});

/** How likely a fault that is there shows in any of these tests. */
const showsInAny = (tests: readonly Pick<Candidate, "shows">[], id: FaultId): Probability =>
  1 - tests.reduce((quiet, { shows }) => quiet * (1 - (shows.get(id) ?? 0)), 1);

const chanceOf = (tests: readonly Pick<Candidate, "shows">[], faults: readonly Believed[]): Probability =>
  faults.reduce((sum, { id, probability }) => sum + probability * showsInAny(tests, id), 0);

/** What they bring to light, the likeliest first. */
const named = (tests: readonly Pick<Candidate, "shows">[], faults: readonly Believed[]): readonly FaultId[] =>
  faults
    .map(({ id, probability }) => ({ id, chance: probability * showsInAny(tests, id) }))
    .sort((a, b) => b.chance - a.chance)
    .map(({ id }) => id);

/** These in one go. */
const tryOutOf = (tests: readonly Candidate[], faults: readonly Believed[]): TryOut => {
  const probes = tests.map(({ probe }) => probe);
  return {
    kind: "try-out",
    tests: probes.map(asPlayed),
    minutes: minutesOf(probes),
    reason: sayMayShow(named(tests, faults)),
    chance: chanceOf(tests, faults),
  };
};

const isOther = ({ under, function: id }: Probe, untried: readonly CircumstanceId[]): boolean =>
  under !== "as usual" && untried.includes(under) && (under !== "hot" || id === undefined);

const isAbout = (probe: Probe, { functions }: MovingPart): boolean =>
  probe.under !== "hot" && testedIn(probe).length > 0 && testedIn(probe).every((id) => functions.includes(id));

const mostFirst = <Test extends Pick<TryOut, "chance" | "minutes">>(tests: readonly Test[]): readonly Test[] =>
  tests.toSorted((a, b) => b.chance / b.minutes - a.chance / a.minutes);

const oneOfEach = (tests: readonly Candidate[]): readonly Candidate[] =>
  tests.filter(({ probe }, at) => tests.findIndex((one) => one.probe.under === probe.under) === at);
