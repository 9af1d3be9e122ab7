import type { Utterance } from "../../../src/sim/rdm/responder.ts";

/** One way each in which a fixture's answer may be bad. Numbers are summed anew where only the content is wrong. */
export const MANNERS = {
  "wrong checksum": (said) => with_(said, (bytes) => bytes.with(-1, (bytes.at(-1)! + 1) & 255)),
  "breaks off": (said) => with_(said, (bytes) => bytes.slice(0, 12)),
  "wrong UID": (said) => with_(said, (bytes) => summed(bytes.with(14, bytes[14]! ^ 0x40))),
  "for somebody else": (said) => with_(said, (bytes) => summed(bytes.with(8, bytes[8]! ^ 0x40))),
  "wrong transaction number": (said) => with_(said, (bytes) => summed(bytes.with(15, bytes[15]! ^ 0x40))),
  "wrong kind of answer": (said) => with_(said, (bytes) => summed(bytes.with(22, bytes[22]! ^ 0x40))),
  "more time, for ever": (said) => with_(said, (bytes) => remade(bytes, 1, [0, 3])),
  "more to come, for ever": (said) =>
    with_(said, (bytes) => (bytes[22] === 0x50 ? remade(bytes, 3, Array(230).fill(0)) : bytes)),
  "lies about its length": (said) => with_(said, (bytes) => summed(bytes.with(23, 200))),
  "says more than fits": (said) => with_(said, (bytes) => remade(bytes, 0, [...Array(60).keys()])),
  "text that is no text": (said) =>
    with_(said, (bytes) => remade(bytes, 0, [0x41, 0x1b, 0x5b, 0x32, 0x4a, 0xe9, 0x07])),
  "levels instead": () => ({ bytes: Array(513).fill(0), bare: false }),
  vanishes: () => undefined,
} as const satisfies Readonly<Record<string, (said: Utterance) => Utterance | undefined>>;
export type Manner = keyof typeof MANNERS;

const with_ = (said: Utterance, change: (bytes: readonly number[]) => readonly number[]): Utterance =>
  said.bare ? said : { ...said, bytes: change(said.bytes) };

/** Another type of response, with other data. */
const remade = (bytes: readonly number[], type: number, data: readonly number[]): readonly number[] =>
  summed([
    ...bytes.slice(0, 2),
    24 + data.length,
    ...bytes.slice(3, 16),
    type,
    ...bytes.slice(17, 23),
    data.length,
    ...data,
    0,
    0,
  ]);

const summed = (bytes: readonly number[]): readonly number[] => {
  const body = bytes.slice(0, -2);
  const sum = body.reduce((total, byte) => total + byte, 0);
  return [...body, (sum >> 8) & 255, sum & 255];
};
