import { type Estimate, leastSquares } from "../../domain/statistics/sample.ts";
import type { Seconds } from "../../domain/units.ts";
import { reactionDensity } from "./delay.ts";
import { likelihoodOf, type Unknowns } from "./likelihood.ts";
import { crossingOf, type Pass, placeOn, type TravelWay } from "./pass.ts";
import type { Watch } from "./watch.ts";

/** A press that belongs to a place, with the way it was moving. */
export interface PlacedPress extends PressSpot {
  readonly way: TravelWay;
  readonly press: Seconds;
  /** How far off the press may be either way, where it came over the air. */
  readonly give?: Seconds;
}

/**
 * The presses that belong to a place, as where the fixture was commanded to be when the key came, on the pass that
 * crossed the place: a press that comes after the turn-round still lies beyond the place. Each pass brings one press
 * at most, no press is taken twice, and a press that is likelier to have come for nothing is left out. `place` is in
 * the travel's unit, degrees or per cent.
 */
export const spotsOf = (watches: readonly Watch[], place: number, unknowns: Unknowns): readonly PlacedPress[] => {
  const shift = likeliestShift(watches, place, unknowns);
  return watches.flatMap((watch) => {
    const pairs = pairsOf(watch, place, unknowns, shift).sort((a, b) => b.density - a.density);
    const taken = pairs.filter(
      (pair, i) => !pairs.slice(0, i).some(({ pass, press }) => pass === pair.pass || press === pair.press),
    );
    return taken.map(({ pass, press }) => ({
      place: placeOn(pass, press),
      velocity: pass.velocity,
      way: pass.way,
      press,
      ...giveOf(watch, press),
    }));
  });
};

const giveOf = ({ presses, gives }: Watch, press: Seconds): Pick<PlacedPress, "give"> => {
  const give = gives?.[presses.indexOf(press)];
  return give === undefined ? {} : { give };
};

interface PassPair {
  readonly pass: Pass;
  readonly press: Seconds;
  readonly density: number;
}

const pairsOf = ({ lag, passes, presses }: Watch, place: number, unknowns: Unknowns, shift: Seconds): PassPair[] => {
  const likely = Math.max(...unknowns.stray);
  return passes.flatMap((pass) => {
    const crossed = crossingOf(pass, place);
    if (crossed === undefined) return [];
    return presses
      .map((press) => ({
        pass,
        press,
        density: reactionDensity(unknowns.reaction, press - crossed - lag - shift),
      }))
      .filter(({ density }) => density > likely);
  });
};

const likeliestShift = (watches: readonly Watch[], place: number, unknowns: Unknowns): Seconds => {
  const events = watches.map(({ passes }) => passes.flatMap((pass) => crossingOf(pass, place) ?? []));
  const logs = unknowns.shifts.map((shift) => likelihoodOf(watches, { ...unknowns, shifts: [shift] })(events));
  return unknowns.shifts[logs.indexOf(Math.max(...logs))] ?? 0;
};

/** A press as place and signed velocity: positive where the place in degrees or percent rises. */
interface PressSpot {
  readonly place: number;
  readonly velocity: number;
}

/** Place, play and delay told apart by two speeds: a press lies at `at`, plus or minus the play, plus velocity times delay. */
export interface PlayFit {
  readonly at: Estimate;
  /** Half of the dead movement at a turn-round, in degrees or percent: towards where it is going. */
  readonly play: Estimate;
  /** Lag and reaction together, in seconds. */
  readonly delay: Estimate;
}

/**
 * Least squares of place on 1, direction and velocity. Play moves a place the same way at any speed, a delay in proportion to
 * the speed: one speed alone cannot tell them apart, and then, or with presses one way only, this is undefined.
 */
export const fitPlay = (spots: readonly PressSpot[]): PlayFit | undefined => {
  const fit = leastSquares(
    spots.map(({ velocity }) => [1, Math.sign(velocity), velocity]),
    spots.map(({ place }) => place),
  );
  const [at, play, delay] = fit ?? [];
  return at && play && delay && { at, play, delay };
};
