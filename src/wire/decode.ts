import { END_OF_MESSAGE, HEADER_BYTES, MAX_PAYLOAD, type Message, START_OF_MESSAGE } from "./messages.ts";

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
