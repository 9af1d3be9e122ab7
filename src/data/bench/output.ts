import { z } from "zod";

/** What a DMX line is put on. */
export type Output =
  | { readonly kind: "sim" }
  /** An interface that speaks framed serial messages, or a plain serial adapter on which the computer times the breaks. */
  | { readonly kind: "serial" | "break"; readonly path: string }
  /** Over the network, to an IPv4 address or "multicast". */
  | { readonly kind: NetworkKind; readonly universe: number; readonly to: string };
type NetworkKind = keyof typeof UNIVERSES;

/** Streaming ACN counts from 1 (ANSI E1.31), Art-Net from 0, net, sub-net and universe in one number (both secondary). */
const UNIVERSES = { sacn: { first: 1, last: 63_999 }, artnet: { first: 0, last: 32_767 } } as const;

/** What is wrong with an output, and in which of its two parts. */
export interface OutputMistake {
  readonly about: "output" | "to";
  readonly message: string;
  readonly hint: string;
}
type Parsed = Output | OutputMistake;

/**
 * Reads an output as a person writes it: "serial:/dev/ttyUSB0"; "sacn:2" with where it goes in `to`, or
 * both in one text as `outputName` says it.
 */
export const parseOutput = (text: string, to: string | undefined): Parsed => {
  const [, kind = "", rest = "", toInside] = /^(\w+):(.+?)(?: to (\S+))?$/s.exec(text) ?? [];
  if (kind === "sacn" || kind === "artnet") return onNetwork(kind, rest, to ?? toInside);
  if (to !== undefined)
    return { about: "to", message: `"${text}" goes nowhere else`, hint: "only for sacn: and artnet:" };
  if (kind === "serial" || kind === "break") return { kind, path: text.slice(kind.length + 1) };
  return text === "sim" ? { kind: "sim" } : unknownOutput(text);
};

/** Whether what was read is a mistake and not an output. */
export const isMistake = (parsed: Parsed): parsed is OutputMistake => "about" in parsed;

/** The whole output in one text, for the record and for people; `parseOutput` reads it again. */
export const outputName = (output: Output): string => {
  if (output.kind === "sim") return "sim";
  return "path" in output ? `${output.kind}:${output.path}` : `${output.kind}:${output.universe} to ${output.to}`;
};

const unknownOutput = (text: string): OutputMistake => ({
  about: "output",
  message: `"${text}" is not an output`,
  hint: 'serial:PATH, such as serial:/dev/ttyUSB0, break:PATH, sacn:UNIVERSE, artnet:UNIVERSE, or sim; "limber outputs" lists what is there',
});

const onNetwork = (kind: NetworkKind, number: string, to: string | undefined): Parsed => {
  const { first, last } = UNIVERSES[kind];
  const universe = /^\d{1,5}$/.test(number) ? Number(number) : -1;
  if (universe < first || universe > last)
    return {
      about: "output",
      message: `"${number}" is not a universe of ${NAMES[kind]}`,
      hint: `${first} to ${last}, such as ${kind}:2`,
    };
  return misdirected(kind, to) ?? { kind, universe, to: to ?? "" };
};

const NAMES = { sacn: "sACN", artnet: "Art-Net" } as const;

const misdirected = (kind: NetworkKind, to: string | undefined): OutputMistake | undefined => {
  const hint = kind === "sacn" ? 'such as 10.0.0.5, or "multicast"' : "such as 10.0.0.5";
  if (to === undefined) return { about: "to", message: `${NAMES[kind]} must be told where to go`, hint };
  if (kind === "sacn" && to === "multicast") return undefined;
  if (!z.ipv4().safeParse(to).success) return { about: "to", message: `"${to}" is not an IPv4 address`, hint };
  return isOneReceiver(to) ? undefined : { about: "to", message: `"${to}" is not the address of one receiver`, hint };
};

/** 0 is "this network"; from 224 on come groups, what is reserved, and everybody (RFC 1122, RFC 5771). */
const isOneReceiver = (address: string): boolean => {
  const first = Number(address.split(".")[0]);
  return first > 0 && first < 224;
};
