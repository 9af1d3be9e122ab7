import type { Hertz } from "../domain/units.ts";
import type { Microseconds } from "./packet-time.ts";

/** One framed serial message, as common USB-DMX interfaces speak them: a label that says what it is, and its payload. */
export interface Message {
  /** 0 to 255. */
  readonly label: number;
  /** At most 600 bytes, any values: nothing is escaped. */
  readonly payload: Uint8Array;
}

/** The labels Limber speaks. Labels 1 and 2 are never sent: they overwrite an interface's firmware. */
const LABELS = {
  parameters: 3,
  /** From the interface: what came in on the line. */
  received: 5,
  levels: 6,
  rdm: 7,
  serialNumber: 10,
  rdmSearch: 11,
  /** From the interface: nobody answered in time. */
  rdmTimeout: 12,
} as const;

const START_OF_MESSAGE = 0x7e;
const END_OF_MESSAGE = 0xe7;
/** Start, label and two bytes of length stand before the payload, one end byte after it. */
const HEADER_BYTES = 4;
const MAX_PAYLOAD = 600;

/** The bytes of a message: `7E label lengthLSB lengthMSB payload E7` (secondary: read in open implementations). */
export const encode = ({ label, payload }: Message): Uint8Array => {
  if (payload.length > MAX_PAYLOAD) throw new RangeError(`Bug: a payload of ${payload.length} bytes`);
  const bytes = new Uint8Array(HEADER_BYTES + payload.length + 1);
  bytes.set([START_OF_MESSAGE, label, payload.length & 0xff, payload.length >> 8]);
  bytes.set(payload, HEADER_BYTES);
  bytes[bytes.length - 1] = END_OF_MESSAGE;
  return bytes;
};

/** Start code 0 says: these are levels (ANSI E1.11). */
const START_CODE = 0x00;
/** Label 6 takes 25 to 513 bytes, start code included. */
const FEWEST_SLOTS = 24;
const MOST_SLOTS = 512;

/** Hands 24 to 512 levels to the interface, slot 1 first; it repeats them on the DMX line by itself until the next. */
export const levelsMessage = (levels: Uint8Array): Uint8Array => {
  if (levels.length < FEWEST_SLOTS || levels.length > MOST_SLOTS)
    throw new RangeError(`Bug: ${levels.length} slots in a packet`);
  const payload = new Uint8Array(1 + levels.length);
  payload[0] = START_CODE;
  payload.set(levels, 1);
  return encode({ label: LABELS.levels, payload });
};

/** Asks for firmware, break, mark and rate, and for none of the user's own bytes. An interface that does not know it stays silent. */
export const parametersRequest = (): Uint8Array => encode({ label: LABELS.parameters, payload: new Uint8Array(2) });

/** Asks for the interface's serial number. */
export const serialNumberRequest = (): Uint8Array => encode({ label: LABELS.serialNumber, payload: new Uint8Array(0) });

/**
 * Hands one RDM packet to the interface, which sends it and listens for the answer. A search is told apart, since its
 * answers come without a break.
 */
export const rdmMessage = (packet: Uint8Array, answered: "by-one" | "by-any" | "by-nobody"): Uint8Array =>
  encode({ label: answered === "by-any" ? LABELS.rdmSearch : LABELS.rdm, payload: packet });

/** What an interface says of itself, as values; labels 3, 5, 10 and 12 of the framed serial messages (secondary). */
export type InterfaceReply =
  | {
      readonly kind: "parameters";
      /** Two bytes read as one number, the second the high one. */
      readonly firmware: number;
      readonly breakTime: Microseconds;
      readonly markTime: Microseconds;
      readonly rate: Hertz | "fastest";
    }
  | { readonly kind: "serial-number"; readonly serialNumber: number }
  /** What came in on the line, start code first; `clean` is the interface's own word. */
  | { readonly kind: "received"; readonly clean: boolean; readonly bytes: Uint8Array }
  /** Nobody answered an RDM packet in time. */
  | { readonly kind: "rdm-timeout" }
  /** A label that says nothing to us, or a known one with too few bytes. */
  | { readonly kind: "unknown"; readonly message: Message };

/** Break and mark are counted in this unit. */
const BREAK_UNIT: Microseconds = 10.67;

/** What a message of an interface says; "unknown" with the message itself for anything else. */
export const replyOf = (message: Message): InterfaceReply =>
  (message.label === LABELS.received && received(message.payload)) ||
  (message.label === LABELS.rdmTimeout && RDM_TIMEOUT) ||
  (message.label === LABELS.parameters && parameters(message.payload)) ||
  (message.label === LABELS.serialNumber && serialNumber(message.payload)) || { kind: "unknown", message };

const RDM_TIMEOUT: InterfaceReply = { kind: "rdm-timeout" };

/** A status byte, 0 for good, then the bytes. */
const received = (payload: Uint8Array): InterfaceReply | undefined =>
  payload.length === 0 ? undefined : { kind: "received", clean: payload[0] === 0, bytes: payload.slice(1) };

const parameters = ([low, high, breakUnits, markUnits, rate]: Uint8Array): InterfaceReply | undefined => {
  if (low === undefined || high === undefined || breakUnits === undefined) return undefined;
  if (markUnits === undefined || rate === undefined) return undefined;
  return {
    kind: "parameters",
    firmware: low + 256 * high,
    breakTime: breakUnits * BREAK_UNIT,
    markTime: markUnits * BREAK_UNIT,
    rate: rate === 0 ? "fastest" : rate,
  };
};

const serialNumber = (payload: Uint8Array): InterfaceReply | undefined =>
  payload.length < 4
    ? undefined
    : { kind: "serial-number", serialNumber: payload.subarray(0, 4).reduceRight((sum, byte) => sum * 256 + byte, 0) };

/** What was read from a stream so far: whole messages, and the bytes that may still become one. */
export interface Decoded {
  readonly messages: readonly Message[];
  /** Hand this to the next `decode` together with the bytes that come next. Never longer than one message. */
  readonly pending: Uint8Array;
}

export const NOTHING_PENDING: Uint8Array = new Uint8Array(0);

/**
 * Reads messages from a stream that comes in pieces of any size. Goes by the length, since start and end bytes may stand
 * inside a payload; what does not end where it should is noise, and the search goes on one byte after its false start.
 */
export const decode = (pending: Uint8Array, chunk: Uint8Array): Decoded => {
  const bytes = joined(pending, chunk);
  const messages: Message[] = [];
  let at = bytes.indexOf(START_OF_MESSAGE);
  while (at >= 0) {
    const found = readAt(bytes, at);
    if (found === "more") return { messages, pending: bytes.slice(at) };
    if (found !== "noise") messages.push(found);
    at = bytes.indexOf(START_OF_MESSAGE, at + (found === "noise" ? 1 : sizeOf(found)));
  }
  return { messages, pending: NOTHING_PENDING };
};

const readAt = (bytes: Uint8Array, at: number): Message | "more" | "noise" => {
  const [, label, low, high] = bytes.subarray(at, at + HEADER_BYTES);
  if (label === undefined || low === undefined || high === undefined) return "more";
  const length = low + 256 * high;
  if (length > MAX_PAYLOAD) return "noise";
  const payload = at + HEADER_BYTES;
  const end = bytes[payload + length];
  if (end === undefined) return "more";
  return end === END_OF_MESSAGE ? { label, payload: bytes.slice(payload, payload + length) } : "noise";
};

const sizeOf = ({ payload }: Message): number => HEADER_BYTES + payload.length + 1;

const joined = (first: Uint8Array, second: Uint8Array): Uint8Array => {
  const bytes = new Uint8Array(first.length + second.length);
  bytes.set(first);
  bytes.set(second, first.length);
  return bytes;
};
