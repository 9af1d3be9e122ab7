import { type Estimate, leastSquares } from "../../domain/statistics/sample.ts";

/** A press as place and signed velocity: positive where the place in degrees or percent rises. */
export interface PressSpot {
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
