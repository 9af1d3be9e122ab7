/** One framed serial message, as common USB-DMX interfaces speak them: a label that says what it is, and its payload. */
export interface Message {
  /** 0 to 255. */
  readonly label: number;
  /** At most 600 bytes, any values: nothing is escaped. */
  readonly payload: Uint8Array;
}

/** The labels Limber speaks. Labels 1 and 2 are never sent: they overwrite an interface's firmware. */
export const LABELS = {
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

export const START_OF_MESSAGE = 0x7e;
export const END_OF_MESSAGE = 0xe7;
/** Start, label and two bytes of length stand before the payload, one end byte after it. */
export const HEADER_BYTES = 4;
export const MAX_PAYLOAD = 600;

/** The bytes of a message: `7E label lengthLSB lengthMSB payload E7` (secondary: read in open implementations). */
export const encode = ({ label, payload }: Message): Uint8Array => {
  if (payload.length > MAX_PAYLOAD) throw new RangeError(`Bug: a payload of ${payload.length} bytes`);
  const bytes = new Uint8Array(HEADER_BYTES + payload.length + 1);
  bytes.set([START_OF_MESSAGE, label, payload.length & 0xff, payload.length >> 8]);
  bytes.set(payload, HEADER_BYTES);
  bytes[bytes.length - 1] = END_OF_MESSAGE;
  return bytes;
};
