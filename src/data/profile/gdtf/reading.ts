import type { Problem } from "../../../domain/problem/problem.ts";
import type { Raw } from "../profile.ts";
import { onBytes, parseDmxValue } from "./dmx-value.ts";
import type { Element, Xml } from "./element.ts";

/** A description while it is read: every mistake is kept with its place, and reading goes on with the usual value. */
export interface Reading {
  readonly xml: Xml;
  readonly mistakes: Problem[];
  /** What was left out without harm. */
  readonly remarks: Problem[];
}

export const mistake = ({ xml, mistakes }: Reading, at: Pick<Element, "at">, message: string, hint?: string): void => {
  if (mistakes.length < MOST_TOLD) mistakes.push(xml.problem(at, message, hint));
};

export const remark = ({ xml, remarks }: Reading, at: Pick<Element, "at">, message: string): void => {
  if (remarks.length < MOST_TOLD) remarks.push(xml.problem(at, message));
};
/** Who reads more? */
const MOST_TOLD = 200;

/** All children of a name, also below the collecting element that GDTF puts around them. */
export const childrenOf = (element: Element | undefined, ...path: readonly string[]): readonly Element[] => {
  const [name, ...deeper] = path;
  const found = element?.children.filter((child) => child.name === name) ?? [];
  return deeper.length === 0 ? found : found.flatMap((child) => childrenOf(child, ...deeper));
};

/** An attribute on one line, or undefined when it is missing or empty. */
export const attribute = ({ attributes }: Element, name: string): string | undefined =>
  attributes.get(name)?.replace(/\s+/g, " ") || undefined;

/** A floating-point attribute. No fixture needs more than a thousand million of anything. */
export const numberIn = (reading: Reading, element: Element, name: string, usual: number): number => {
  const written = attribute(element, name);
  if (written === undefined) return usual;
  const value = NUMBER.test(written) ? Number(written) : Number.NaN;
  if (Math.abs(value) <= 1e9) return value;
  mistake(reading, element, `${name}="${written}" is not a number`);
  return usual;
};
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** A whole number, one or more. */
export const countIn = (reading: Reading, element: Element, name: string, usual: number): number => {
  const written = attribute(element, name);
  if (written === undefined) return usual;
  if (/^\d{1,5}$/.test(written) && Number(written) >= 1) return Number(written);
  mistake(reading, element, `${name}="${written}" is not a whole number from 1`);
  return usual;
};

/** A DMX value on so many bytes; undefined when it is missing. */
export const levelIn = (reading: Reading, element: Element, name: string, bytes: number): Raw | undefined => {
  const written = attribute(element, name);
  if (written === undefined) return undefined;
  const value = parseDmxValue(written);
  if (value) return onBytes(value, bytes);
  mistake(reading, element, `${name}="${written}" is not a DMX value`, "such as 128/1, or 32768/2");
  return undefined;
};
