import type { Problem } from "../../../domain/problem/problem.ts";
import type { Raw } from "../profile.ts";
import type { Element, Xml } from "./element.ts";

/** A description while it is read. What breaks the standard and can be understood is read, and noted with its place. */
export interface GdtfReading {
  readonly xml: Xml;
  readonly notes: Problem[];
}

/** Notes what was assumed, or left out, where the file is not as the standard has it. */
export const note = ({ xml, notes }: GdtfReading, at: Pick<Element, "at">, message: string): void => {
  if (notes.length < MOST_NOTED) notes.push(xml.problem(at, message));
};
/** Alike ones are told once; more different ones nobody reads. */
const MOST_NOTED = 5000;

/** All children of a name, also below the collecting element that GDTF puts around them. */
export const childrenOf = (element: Element | undefined, ...path: readonly string[]): readonly Element[] => {
  const [name, ...deeper] = path;
  const found = element?.children.filter((child) => child.name === name) ?? [];
  return deeper.length === 0 ? found : found.flatMap((child) => childrenOf(child, ...deeper));
};

/** An attribute on one line, or undefined when it is missing or empty. */
export const attribute = ({ attributes }: Element, name: string): string | undefined =>
  attributes.get(name)?.replace(/\s+/g, " ") || undefined;

/**
 * A floating-point attribute in the unit of the standard, or `usual`, in the same unit, where there is none. A value beyond
 * a thousand million is no number that a fixture has: it is noted, and `usual` taken.
 */
export const numberIn = (reading: GdtfReading, element: Element, name: string, usual: number): number => {
  const written = attribute(element, name);
  if (written === undefined || NOTHING.test(written)) return usual;
  const found = NUMBER.exec(written)?.[0];
  const value = found === undefined ? Number.NaN : Number(found.replace(",", "."));
  if (found !== written || found.includes(","))
    note(reading, element, `${name}="${written}": read as ${isSane(value) ? value : usual}`);
  else if (!isSane(value))
    note(reading, element, `${name}="${written}" is no number that a fixture has: taken as ${usual}`);
  return isSane(value) ? value : usual;
};
const NUMBER = /^[+-]?(\d+[.,]?\d*|[.,]\d+)(e[+-]?\d+)?/i;
const NOTHING = /^(none|nan|null|-)$/i;
const isSane = (value: number): boolean => Math.abs(value) <= 1e9;

/**
 * An attribute that is a whole number from 1 to 99999, or 1 where there is none; what cannot be
 * understood is noted.
 */
export const countIn = (reading: GdtfReading, element: Element, name: string): number => {
  const written = attribute(element, name);
  if (written === undefined) return 1;
  if (/^\d{1,5}$/.test(written) && Number(written) >= 1) return Number(written);
  note(reading, element, `${name}="${written}" is not a whole number from 1: taken as 1`);
  return 1;
};

/**
 * A DMX value for a channel of `bytes` bytes (1 to 4); undefined when it is missing, or
 * cannot be understood, which is noted.
 */
export const levelIn = (reading: GdtfReading, element: Element, name: string, bytes: number): Raw | undefined => {
  const written = attribute(element, name);
  if (written === undefined || NOTHING.test(written)) return undefined;
  const read = parseDmxValue(written, bytes);
  if (read === undefined) note(reading, element, `${name}="${written}" is not a DMX value such as 128/1: left out`);
  else if (read.assumed) note(reading, element, `${name}="${written}": ${read.assumed}`);
  return read?.raw;
};

/** A DMX value on the bytes of its channel, and what was assumed to read it. */
interface ReadLevel {
  readonly raw: Raw;
  readonly assumed: string | undefined;
}

/**
 * Reads a DMX value as "255/1" or "128/1s" (DIN SPEC 15800, table 1): the value on a number of bytes, widened to `wanted`
 * bytes (1 to 4) by mirroring or, with an "s", by shifting. Without a number of bytes, as early versions wrote it, they are
 * the channel's own. Undefined where it is no such value.
 */
export const parseDmxValue = (text: string, wanted: number): ReadLevel | undefined => {
  const found = /^(-?\d{1,12})\s*(?:\/\s*(\d{1,3})\s*(s?))?$/i.exec(text);
  if (!found) return hexadecimal(text, wanted);
  const [, value, bytes, shifts] = found;
  if (bytes === undefined) return bounded(Number(value), wanted, wanted, false, `read as ${onWords(wanted)}`);
  if (Number(bytes) < 1 || Number(bytes) > 4)
    return bounded(
      Number(value),
      wanted,
      wanted,
      false,
      `no channel has ${onWords(Number(bytes))}: read as ${onWords(wanted)}`,
    );
  return bounded(Number(value), Number(bytes), wanted, shifts !== "", undefined);
};

/** Some programs write the bytes of a value in hexadecimal digits, two for each slot. */
const hexadecimal = (text: string, wanted: number): ReadLevel | undefined => {
  const digits = /^(?:0x)?([0-9a-f]{2,8})(?:\/[1-4]s?)?$/i.exec(text)?.[1];
  if (digits === undefined || digits.length % 2 === 1) return undefined;
  const bytes = digits.length / 2;
  return bounded(Number.parseInt(digits, 16), bytes, wanted, false, `read as hexadecimal on ${onWords(bytes)}`);
};

const bounded = (
  value: number,
  bytes: number,
  wanted: number,
  shifts: boolean,
  assumed: string | undefined,
): ReadLevel => {
  const inside = Math.min(Math.max(value, 0), highest(bytes));
  const said =
    inside === value ? assumed : `not within 0 to ${highest(bytes)} of ${onWords(bytes)}: taken as ${inside}`;
  return { raw: onBytes(inside, bytes, wanted, shifts), assumed: said };
};

const onWords = (bytes: number): string => (bytes === 1 ? "1 byte" : `${bytes} bytes`);

/** A value on another number of bytes: 255/1 is 65535 on two, 255/1s is 65280. */
const onBytes = (value: number, bytes: number, wanted: number, shifts: boolean): Raw =>
  shifts ? Math.floor(value * 256 ** (wanted - bytes)) : Math.floor((value / highest(bytes)) * highest(wanted) + 0.5);

/** The highest raw value of a channel of `bytes` bytes: 255, 65535, ... */
export const highest = (bytes: number): number => 256 ** bytes - 1;
