/**
 * Who somebody is on the cable (ANSI E1.20): 16 bits of manufacturer, 32 bits of device, as one whole number of 48 bits,
 * which a double holds exactly.
 */
export type Uid = number & { readonly unit?: "uid" };

/** Everybody. No request to it is answered, except the search. */
export const EVERYBODY: Uid = 0xffff_ffff_ffff;
/** The last one that a search must cover; the one above it means everybody. */
export const LAST_UID: Uid = EVERYBODY - 1;
/** Who Limber is: a manufacturer number kept for prototypes (0x7FF0 to 0x7FFF, from memory). */
export const OUR_UID: Uid = 0x7ff0_4c49_4d42;
const UID_BYTES = 6;

const DEVICES = 2 ** 32;
const EVERY_DEVICE = DEVICES - 1;

/** A UID as the standard writes it: "7FF0:00000002". */
export const uidText = (uid: Uid): string => `${hex(manufacturerOf(uid), 4)}:${hex(uid % DEVICES, 8)}`;

/** The number behind "7ff0:00000002"; undefined for anything else. */
export const uidIn = (text: string): Uid | undefined => {
  const [, manufacturer, device] = /^([0-9a-f]{4}):?([0-9a-f]{8})$/i.exec(text.trim()) ?? [];
  if (manufacturer === undefined || device === undefined) return undefined;
  return Number.parseInt(manufacturer, 16) * DEVICES + Number.parseInt(device, 16);
};

const manufacturerOf = (uid: Uid): number => Math.floor(uid / DEVICES);

/** Whether a UID means everybody, or everybody of one manufacturer. */
export const isBroadcast = (uid: Uid): boolean => uid % DEVICES === EVERY_DEVICE;

/** The six bytes of a UID, 0 to 255 each, highest first. */
export const uidBytes = (uid: Uid): readonly number[] =>
  Array.from({ length: UID_BYTES }, (_, index) => Math.floor(uid / 256 ** (UID_BYTES - 1 - index)) % 256);

/** The UID in the six bytes that begin at index `at`, from 0; bytes that are missing count as 0. */
const uidAt = (bytes: Uint8Array, at: number): Uid =>
  bytes.subarray(at, at + UID_BYTES).reduce((uid, byte) => uid * 256 + byte, 0);

const hex = (value: number, digits: number) => value.toString(16).toUpperCase().padStart(digits, "0");

/** One RDM message between its start code and its checksum (ANSI E1.20, layout secondary: read in open implementations). */
export interface RdmPacket {
  readonly destination: Uid;
  readonly source: Uid;
  /** 0 to 255; a responder repeats the number of the request. */
  readonly transaction: number;
  /** Slot 16: the controller's port in a request (1 to 255), how it is answered in a response (see RESPONSES). */
  readonly port: number;
  /** Messages that wait in the responder's queue; 0 in requests. */
  readonly waiting: number;
  /** 0 is the fixture itself. */
  readonly subDevice: number;
  readonly command: number;
  /** Parameter ID. */
  readonly pid: number;
  /** At most 231 bytes. */
  readonly data: Uint8Array;
}

export const COMMANDS = {
  discovery: 0x10,
  discoveryResponse: 0x11,
  get: 0x20,
  getResponse: 0x21,
  set: 0x30,
  setResponse: 0x31,
} as const;

/** What slot 16 of a response says. */
export const RESPONSES = { done: 0, later: 1, refused: 2, more: 3 } as const;

/** Why bytes are no RDM packet. */
export type BadPacket = "short" | "not-rdm" | "wrong-length" | "checksum";

const START_CODE = 0xcc;
const SUB_START_CODE = 0x01;
const HEADER = 24;
const CHECKSUM = 2;
const MOST_DATA = 231;

/** The bytes of a packet on the cable, from start code to checksum (ANSI E1.20). */
export const encodePacket = (packet: RdmPacket): Uint8Array => {
  const { data } = packet;
  if (data.length > MOST_DATA) throw new RangeError(`Bug: ${data.length} bytes of RDM data`);
  const bytes = new Uint8Array(HEADER + data.length + CHECKSUM);
  bytes.set([START_CODE, SUB_START_CODE, HEADER + data.length]);
  bytes.set([...uidBytes(packet.destination), ...uidBytes(packet.source)], 3);
  bytes.set([packet.transaction, packet.port, packet.waiting, ...word(packet.subDevice), packet.command], 15);
  bytes.set([...word(packet.pid), data.length], 21);
  bytes.set(data, HEADER);
  bytes.set(word(sumOf(bytes.subarray(0, -CHECKSUM))), HEADER + data.length);
  return bytes;
};

/** The packet in these bytes, which may be followed by others; or the first thing that is wrong with them. */
export const decodePacket = (bytes: Uint8Array): RdmPacket | BadPacket => {
  const [start, sub, length] = bytes;
  if (start === undefined || sub === undefined || length === undefined) return "short";
  if (start !== START_CODE || sub !== SUB_START_CODE) return "not-rdm";
  if (length < HEADER) return "wrong-length";
  if (bytes.length < length + CHECKSUM) return "short";
  if (bytes[HEADER - 1] !== length - HEADER || length - HEADER > MOST_DATA) return "wrong-length";
  if (sumOf(bytes.subarray(0, length)) !== wordAt(bytes, length)) return "checksum";
  return {
    destination: uidAt(bytes, 3),
    source: uidAt(bytes, 9),
    transaction: bytes[15] ?? 0,
    port: bytes[16] ?? 0,
    waiting: bytes[17] ?? 0,
    subDevice: wordAt(bytes, 18),
    command: bytes[20] ?? 0,
    pid: wordAt(bytes, 21),
    data: bytes.slice(HEADER, length),
  };
};

const MOST_PREAMBLE = 7;
const PREAMBLE = 0xfe;
const SEPARATOR = 0xaa;

/**
 * Who answered a search: no packet, but six bytes that each come twice with other bits set, so that two answers at once
 * spoil each other. "collision" for whatever cannot be one answer.
 */
export const decodeSearchReply = (bytes: Uint8Array): Uid | "collision" => {
  let at = 0;
  while (at < MOST_PREAMBLE && bytes[at] === PREAMBLE) at += 1;
  if (bytes[at] !== SEPARATOR || bytes.length < at + 17) return "collision";
  const coded = bytes.subarray(at + 1, at + 13);
  const uid = paired(coded);
  const sum = paired(bytes.subarray(at + 13, at + 17));
  return uid !== undefined && sum === sumOf(coded) ? uid : "collision";
};

/** Each byte was sent twice: once with the bits of AA set, once with those of 55. */
const paired = (coded: Uint8Array): number | undefined => {
  let value = 0;
  for (let at = 0; at < coded.length; at += 2) {
    const [first = 0, second = 0] = coded.subarray(at, at + 2);
    if ((first & 0xaa) !== 0xaa || (second & 0x55) !== 0x55) return undefined;
    value = value * 256 + (first & second);
  }
  return value;
};

/** The sum of all bytes, start code included, in 16 bits. */
const sumOf = (bytes: Uint8Array): number => bytes.reduce((sum, byte) => (sum + byte) & 0xffff, 0);

const word = (value: number): readonly [number, number] => [value >> 8, value & 0xff];
const wordAt = (bytes: Uint8Array, at: number): number => (bytes[at] ?? 0) * 256 + (bytes[at + 1] ?? 0);
