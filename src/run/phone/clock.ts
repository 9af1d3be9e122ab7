import { leastSquares } from "../../domain/statistics/sample.ts";
import type { Milliseconds } from "../../domain/units.ts";

/**
 * What the clock of a phone shows beside ours, from round trips: the offset from the trip that was quickest of the last
 * eight, as NTP does it (RFC 5905, sections 8 and 10), and the drift from the quickest trips of the last minutes. All times
 * are milliseconds on clocks that never run backwards.
 */
export interface PhoneClock {
  /** The last trips, the newest last. */
  readonly trips: readonly Sample[];
  /** The quickest of every eight before, for the drift. */
  readonly quickest: readonly Sample[];
}

/** A message there and back: sent and come back by the phone's clock, received and answered by ours (T1 to T4 of RFC 5905). */
export interface RoundTrip {
  readonly sent: Milliseconds;
  readonly received: Milliseconds;
  readonly answered: Milliseconds;
  readonly back: Milliseconds;
}

interface Sample {
  /** Half-way, by the phone's clock. */
  readonly at: Milliseconds;
  /** What is to be added to the phone's time to have ours. */
  readonly offset: Milliseconds;
  /** How long the message was on the air, there and back. */
  readonly delay: Milliseconds;
}

/** A moment on our clock, and how far off that may be either way. */
export interface OurTime {
  readonly at: Milliseconds;
  readonly give: Milliseconds;
}

export const NO_TRIPS: PhoneClock = { trips: [], quickest: [] };

/** Stages of the clock filter (RFC 5905, section 10: NSTAGE). */
const STAGES = 8;
/** How many of the quickest trips are kept, one of every eight; enough for the drift, judgement. */
const MOST_QUICKEST = 40;
/** How far a clock whose drift is not known may go wrong, as a share of the time: crystals of phones, with room (from memory, no source). */
const UNKNOWN_WANDER = 100e-6;
/** What is left once it is known (RFC 5905, appendix A.1.1: PHI, 15 ppm). */
const KNOWN_WANDER = 15e-6;
/** More than this is no drift but a clock that jumped (RFC 5905, appendix A.1.1: MAXFREQ, 500 ppm). */
const MOST_DRIFT = 500e-6;
/** Browsers round what their clock says: up to a millisecond (from memory, no source). */
const RESOLUTION = 1;
/** A trip longer than this says nothing that helps. */
const LONGEST_DELAY = 10_000;

/**
 * What is known of the phone's clock after one more trip. A trip that cannot be, with the clock as it was known, means that
 * the phone's clock jumped: then only that trip is known.
 */
export const afterTrip = (clock: PhoneClock, trip: RoundTrip): PhoneClock => {
  const sample = sampleOf(trip);
  if (!sample) return clock;
  const expected = ourTime(clock, sample.at);
  const apart = expected ? Math.abs(sample.at + sample.offset - expected.at) : 0;
  if (expected && apart > expected.give + sample.delay / 2 + RESOLUTION) return { trips: [sample], quickest: [] };
  const trips = [...clock.trips, sample];
  if (trips.length < 2 * STAGES) return { ...clock, trips };
  const quickest = [...clock.quickest, quickestOf(trips.slice(0, STAGES))].slice(-MOST_QUICKEST);
  return { trips: trips.slice(STAGES), quickest };
};

const sampleOf = ({ sent, received, answered, back }: RoundTrip): Sample | undefined => {
  const delay = back - sent - (answered - received);
  if (!Number.isFinite(delay) || delay < -RESOLUTION || delay > LONGEST_DELAY) return undefined;
  return { at: (sent + back) / 2, offset: (received - sent + answered - back) / 2, delay: Math.max(0, delay) };
};

const quickestOf = (samples: readonly Sample[]): Sample => samples.reduce((a, b) => (b.delay < a.delay ? b : a));

/**
 * When something happened by our clock; undefined before the first round trip. `at` is when it happened by the
 * phone's clock, in milliseconds. However the delay is shared out between there and back, the truth is within half of
 * it (RFC 5905, section 11: root distance).
 */
export const ourTime = ({ trips, quickest }: PhoneClock, at: Milliseconds): OurTime | undefined => {
  const drift = driftOf([...quickest, ...(trips.length > 0 ? [quickestOf(trips)] : [])]);
  const wander = drift === undefined ? UNKNOWN_WANDER : KNOWN_WANDER;
  const giveOf = (sample: Sample) => sample.delay / 2 + wander * Math.abs(at - sample.at) + RESOLUTION;
  const [best] = [...quickest.slice(-1), ...trips.slice(-STAGES)].toSorted((a, b) => giveOf(a) - giveOf(b));
  return best && { at: at + best.offset + (drift ?? 0) * (at - best.at), give: giveOf(best) };
};

/** How many quickest trips a slope needs before it means anything. Judgement. */
const ENOUGH_FOR_DRIFT = 5;

/** How much faster ours goes, as a share; undefined while nobody can say. */
const driftOf = (samples: readonly Sample[]): number | undefined => {
  const first = samples[0];
  if (!first || samples.length < ENOUGH_FOR_DRIFT) return undefined;
  const slope = leastSquares(
    samples.map(({ at }) => [1, (at - first.at) / 1000]),
    samples.map(({ offset }) => offset - first.offset),
  )?.[1];
  if (slope?.error === undefined || slope.error / 1000 > KNOWN_WANDER) return undefined;
  const drift = slope.value / 1000;
  return Math.abs(drift) <= MOST_DRIFT ? drift : undefined;
};
