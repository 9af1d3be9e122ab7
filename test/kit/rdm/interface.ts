import type { Cable } from "../../../src/sim/rdm/cable.ts";
import { type PtyPair, ptyPair } from "../pty.ts";

/** What such an interface does with questions. */
export type InterfaceKind = "does RDM" | "knows no RDM" | "never answers a question";

/**
 * A USB-DMX interface on a pseudo-terminal, with simulated fixtures behind it. It reads and writes framed serial messages
 * by itself and shares no code with ours: 7E, label, length low and high, payload, E7.
 */
export interface RdmInterface {
  readonly pair: PtyPair;
  /** Levels as they came, slot 1 first, and questions, in the order of arrival. */
  readonly heard: readonly (readonly number[] | "question")[];
}

export const rdmInterface = (cable: Cable, kind: InterfaceKind = "does RDM"): RdmInterface => {
  const heard: (readonly number[] | "question")[] = [];
  let bytes: number[] = [];
  const say = (label: number, payload: readonly number[]) =>
    pair.say(Uint8Array.from([0x7e, label, payload.length & 255, payload.length >> 8, ...payload, 0xe7]));
  const take = (label: number, payload: readonly number[]) => {
    if (label === 6) heard.push(payload.slice(1));
    if (label !== 7 && label !== 11) return;
    heard.push("question");
    if (kind !== "does RDM") return;
    const answer = cable.send(Uint8Array.from(payload));
    if (answer) say(5, [0, ...answer]);
    else say(12, []);
  };
  const pair = ptyPair((chunk) => {
    // Whoever has written has it open.
    if (heard.length === 0) pair.taken();
    bytes = [...bytes, ...chunk];
    for (let length = messageLength(bytes); length !== undefined; length = messageLength(bytes)) {
      if (bytes[0] === 0x7e && bytes[length - 1] === 0xe7) take(bytes[1] ?? 0, bytes.slice(4, length - 1));
      bytes = bytes.slice(length);
    }
  });
  return { pair, heard };
};

/** Of the message at the beginning; one byte of noise counts as one. Undefined while more must come. */
const messageLength = (bytes: readonly number[]): number | undefined => {
  if (bytes.length === 0) return undefined;
  if (bytes[0] !== 0x7e) return 1;
  if (bytes.length < 5) return undefined;
  const length = 5 + (bytes[2] ?? 0) + 256 * (bytes[3] ?? 0);
  return bytes.length < length ? undefined : length;
};
