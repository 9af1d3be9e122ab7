import type { Hertz } from "../domain/units.ts";
import { LABELS, type Message } from "./message.ts";
import type { Microseconds } from "./packet-time.ts";

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
