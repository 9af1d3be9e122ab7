import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";

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

/**
 * The chain of a journal's events: each carries a number that counts without gaps within its bench, and the SHA-256 of
 * its content together with the hash of the one before. Whoever changes or removes an event breaks the chain behind it.
 */
interface ChainLink extends Stamp {
  /** From 1, without gaps within `origin`. */
  readonly number: number;
  /** The hash of the event before it in the same bench, in hexadecimal; zeros for the first. */
  readonly before: string;
}

/** The last event of a chain: whoever knows it knows whether anything before it was changed. */
export interface ChainHead {
  readonly origin: string;
  readonly number: number;
  readonly hash: string;
}

export const NO_HASH = "0".repeat(64);

/** SHA-256 in hexadecimal over the canonical form of the event's content, its number and stamp, and the hash before. `event` is canonical text. */
export const hashOf = ({ origin, number, time, counter, before }: ChainLink, event: string): string =>
  bytesToHex(
    sha256(
      utf8ToBytes(
        `{"before":${JSON.stringify(before)},"bench":${JSON.stringify(origin)},"clock":[${time},${counter}],"event":${event},"number":${number}}`,
      ),
    ),
  );

/**
 * JSON Canonicalization Scheme (RFC 8785): no white space, members sorted by the UTF-16 code units of their names, numbers
 * and strings as ECMAScript writes them. One value has one text, so that one text can be hashed. Members that are undefined are left out, as in JSON.
 */
export const canonical = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map((one) => canonical(one ?? null)).join(",")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const members = Object.entries(value).filter(([, one]) => one !== undefined);
  return `{${members
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, one]) => `${JSON.stringify(name)}:${canonical(one)}`)
    .join(",")}}`;
};

/** An event with its place in the chain, as it is kept and as it travels from bench to bench. */
export interface ChainedEvent extends ChainLink {
  /** The event as canonical text. */
  readonly event: string;
  readonly hash: string;
}

/** Whether nothing of this event was changed since it was written. */
export const isSound = (one: ChainedEvent): boolean => hashOf(one, one.event) === one.hash;

/** Why an event cannot be the next one after this head of the same bench; undefined when it can. */
export const breakAt = (
  head: Pick<ChainHead, "number" | "hash"> | undefined,
  next: ChainedEvent,
): string | undefined => {
  const { number, hash } = head ?? { number: 0, hash: NO_HASH };
  if (next.number !== number + 1) return `number ${next.number} where ${number + 1} must be`;
  if (next.before !== hash) return "it does not follow the event before it";
  return isSound(next) ? undefined : "it is not as it was written";
};

/** A head as it stands on a job sheet or label: its number, and the beginning of its hash. */
export type PrintedHead = Pick<ChainHead, "number" | "hash">;

/** How many hexadecimal digits of a hash nobody forges by hand: 48 bits. */
const PRINTED_DIGITS = 12;

/** The head of a journal as sheets and labels print it: its number, and 12 digits of its hash. */
export const printedHead = ({ number, hash }: PrintedHead): string => `${number}-${hash.slice(0, PRINTED_DIGITS)}`;

/** The head that is printed on a sheet or label; undefined for any other text. */
export const readHead = (printed: string): PrintedHead | undefined => {
  const [, number, hash] = /^([1-9]\d{0,14})-([0-9a-f]{12,64})$/.exec(printed.trim()) ?? [];
  return number && hash ? { number: Number(number), hash } : undefined;
};
