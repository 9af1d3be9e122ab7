/**
 * When an event was written, in an order that is the same on every bench: a hybrid logical clock (Kulkarni and others,
 * "Logical Physical Clocks and Consistent Snapshots in Globally Distributed Databases", 2014). It never runs backwards in
 * one journal, whatever the computer's clock does, and an event comes after everything its journal knew when it was written.
 */
export interface Stamp {
  /** Milliseconds since 1970, UTC: the latest time that was known when the event was written. */
  readonly time: number;
  /** Tells apart what bears the same time. */
  readonly counter: number;
  /** The bench id of the journal it was written in. */
  readonly origin: string;
}

/**
 * The one order of events: by time, counter and bench. All that is folded over several runs or several benches is folded in
 * it. The number is below 0 when `a` comes first, above 0 when `b` does, and 0 for the same stamp.
 */
export const order = (a: Stamp, b: Stamp): number =>
  a.time - b.time || a.counter - b.counter || (a.origin < b.origin ? -1 : a.origin > b.origin ? 1 : 0);

/** A stamp as a text whose alphabetical order is that of `order`. */
export const orderKey = ({ time, counter, origin }: Stamp): string =>
  `${String(time).padStart(16, "0")}-${String(counter).padStart(10, "0")}-${origin}`;

/** A reading of that clock. */
export type ClockTime = Pick<Stamp, "time" | "counter">;

/**
 * The stamp of the next event of a journal. `latest` is the highest that the journal knows, of any bench; `at` is the date
 * by the computer's clock (ISO 8601), which counts only where it goes forward.
 */
export const nextStamp = (latest: ClockTime, at: string, origin: string): Stamp => {
  const time = Date.parse(at);
  return time > latest.time ? { time, counter: 0, origin } : { time: latest.time, counter: latest.counter + 1, origin };
};

/** Before every event. */
export const DAWN: ClockTime = { time: 0, counter: 0 };
