/** Longer without an event is a break: nobody is at work on the fixture. Judgement: inspections take minutes each. */
const BREAK_MINUTES = 15;

/** Minutes of work between events at these times (ISO 8601, in order of writing), breaks left out. */
export const minutesOf = (times: readonly string[]): number =>
  times.slice(1).reduce((sum, at, index) => sum + withoutBreak(minutesBetween(times[index] ?? at, at)), 0);

const withoutBreak = (minutes: number): number => (minutes > 0 && minutes <= BREAK_MINUTES ? minutes : 0);

/** Minutes from one time to another, both ISO 8601; below 0 where `to` is the earlier one. */
export const minutesBetween = (from: string, to: string): number => (Date.parse(to) - Date.parse(from)) / 60_000;
