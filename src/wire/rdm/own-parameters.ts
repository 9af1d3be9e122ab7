import type { Dialogue } from "./dialogue.ts";
import type { Inquiry } from "./identity.ts";
import type { Layout } from "./layout.ts";
import { PARAMETERS } from "./parameters.ts";

/** A parameter that only the maker knows, as the fixture itself describes it. */
export interface OwnParameter {
  /** 8000 to FFDF, hexadecimal. */
  readonly pid: number;
  readonly words: string;
  /** The value as it is shown; undefined where it cannot be read. */
  readonly value: string | undefined;
}

/** Numbers that are the makers' own (ANSI E1.20, secondary). */
const isOwn = (pid: number): boolean => pid >= 0x8000 && pid <= 0xffdf;
/** How many are asked about at most. */
const MOST = 40;

/**
 * Asks a fixture to describe what is its maker's own, and reads what can be read. What it does not describe is left out.
 * `supported` are the 16-bit numbers of all parameters that the fixture says it knows.
 */
export function* readOwnParameters(inquiry: Inquiry, supported: readonly number[]): Dialogue<readonly OwnParameter[]> {
  const told: OwnParameter[] = [];
  for (const pid of supported.filter(isOwn).slice(0, MOST)) {
    const before = inquiry.troubles.length;
    const described = yield* inquiry.read(PARAMETERS.PARAMETER_DESCRIPTION, pid);
    inquiry.troubles.length = before;
    if (!described) continue;
    const bytes =
      described.commands & GET ? yield* inquiry.read({ pid, asks: NOTHING, answers: RAW }, undefined) : undefined;
    inquiry.troubles.length = before;
    told.push({ pid, words: described.text, value: bytes && valueText(bytes, described.data) });
  }
  return told;
}

/** "Command class" of a description: bit 0 it can be read, bit 1 it can be set (from memory). */
const GET = 1;

const NOTHING: Layout<undefined> = { read: () => undefined, write: () => new Uint8Array(0), expects: "nothing" };
const RAW: Layout<Uint8Array> = { read: (bytes) => bytes, write: (bytes) => bytes, expects: "any bytes" };

/** Data types of ANSI E1.20 (from memory): text, and numbers of one, two and four bytes, each without and with a sign. */
const TEXT = 2;
const NUMBERS: Readonly<Record<number, (view: DataView) => number>> = {
  3: (view) => view.getUint8(0),
  4: (view) => view.getInt8(0),
  5: (view) => view.getUint16(0),
  6: (view) => view.getInt16(0),
  7: (view) => view.getUint32(0),
  8: (view) => view.getInt32(0),
};
const SIZES: Readonly<Record<number, number>> = { 3: 1, 4: 1, 5: 2, 6: 2, 7: 4, 8: 4 };

/** A number or a text as its description says; else its bytes. */
const valueText = (bytes: Uint8Array, data: number): string => {
  const size = SIZES[data];
  if (size === bytes.length) return String(NUMBERS[data]?.(new DataView(bytes.buffer, bytes.byteOffset, size)));
  if (data === TEXT)
    return [...bytes].map((byte) => (byte >= 0x20 && byte <= 0x7e ? String.fromCharCode(byte) : "?")).join("");
  return [...bytes].map((byte) => byte.toString(16).toUpperCase().padStart(2, "0")).join(" ");
};
