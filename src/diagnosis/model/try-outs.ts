import type { Probability } from "../../domain/units.ts";
import { type CircumstanceId, untriedIn } from "./circumstances.ts";
import type { Weighed } from "./evidence.ts";
import { type FaultId, isFault } from "./knowledge/faults.ts";
import { quietness } from "./looks.ts";
import { type Observation, withFunctions } from "./observation.ts";
import type { Fitted, MovingPart } from "./places.ts";
import { asPlayed, type Drivable, HANDLING, type PlayedTest, type Probe, testedIn } from "./probe.ts";
import { probesFor } from "./probes.ts";
import type { Learned } from "./shop.ts";
import { showingsAfter } from "./showing.ts";
import { sayMayShow } from "./telling.ts";

/** A test where nothing speaks for a fault: it may bring one to light. */
export interface TryOut extends PlayedTest {
  readonly kind: "try-out";
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
const MOST_ASKED = 2;

/**
 * With nothing that speaks for a fault there are no answers to tell apart. Of what was not tried, the test that brings most to
 * light in a minute comes first, one of each kind: the order that finds a single fault soonest (descending probability per
 * minute: Sidney 1975, as for looks). What the same movements would show as usual is not counted, and what took minutes to get
 * hot is looked at as a whole. Before all that, a part on which something was reported that nothing explains is tried again.
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
  const untried = untriedIn(withFunctions(fitted, observations));
  const tried = (probe: Probe, isGainOnly: boolean): TryOut => {
    const showings = showingsOf(probe) ?? [];
    const usually = isGainOnly ? (showingsOf({ ...probe, steps: probe.usually }) ?? []) : [];
    return tryOutOf(probe, faults, (id) => quietness(usually, id) - quietness(showings, id));
  };
  const probes = probesFor(fitted, drivable, observations.at(-1)?.litMinutes ?? 0);
  const other = probes
    .filter((probe) => isOther(probe, untried))
    .map((probe) => tried(probe, true))
    .filter(({ chance }) => chance >= WORTH_TRYING);
  const again = asked.slice(0, MOST_ASKED).flatMap((part) =>
    mostFirst(probes.filter((probe) => isAbout(probe, part)).map((probe) => tried(probe, false)))
      .filter(({ chance }) => chance > 0)
      .slice(0, 1),
  );
  return { untried, offers: [...again, ...oneOfEach(mostFirst(other))] };
}

interface Believed {
  readonly id: FaultId;
  readonly probability: Probability;
}

function tryOutOf(probe: Probe, faults: readonly Believed[], gain: (id: FaultId) => number): TryOut {
  const shown = faults
    .map(({ id, probability }) => ({ id, chance: probability * Math.max(0, gain(id)) }))
    .sort((a, b) => b.chance - a.chance);
  const chance = shown.reduce((sum, one) => sum + one.chance, 0);
  return { kind: "try-out", ...asPlayed(probe, sayMayShow(shown.map(({ id }) => id))), chance };
}

const isOther = ({ under, function: id }: Probe, untried: readonly CircumstanceId[]): boolean =>
  under !== "as usual" && untried.includes(under) && (under !== "hot" || id === undefined);

const isAbout = (probe: Probe, { functions }: MovingPart): boolean =>
  probe.under !== "hot" && testedIn(probe).length > 0 && testedIn(probe).every((id) => functions.includes(id));

const mostFirst = (tests: readonly TryOut[]): readonly TryOut[] => {
  const perMinute = ({ chance, seconds }: TryOut) => chance / (HANDLING + seconds / 60);
  return [...tests].sort((a, b) => perMinute(b) - perMinute(a));
};

const oneOfEach = (tests: readonly TryOut[]): readonly TryOut[] =>
  tests.filter((one, at) => tests.findIndex(({ under }) => under === one.under) === at);
