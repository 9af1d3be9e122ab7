/** One universe's levels as Art-Net 4 carries them (secondary: read in open implementations). */
export interface ArtDmxFrame {
  /** Net, sub-net and universe in one number, 0 to 32767: 256 to a net, 16 to a sub-net. */
  readonly universe: number;
  /** 1 to 255, then 1 again; 0 would say that it does not count. */
  readonly sequence: number;
  /** The sender's own input, for information only. */
  readonly physical: number;
  /** An even number of them, 2 to 512, slot 1 first. */
  readonly levels: Uint8Array;
}

export const ART_NET_PORT = 6454;

/** "Art-Net" and a zero. */
const NAME = [0x41, 0x72, 0x74, 0x2d, 0x4e, 0x65, 0x74, 0];
const VERSION = 14;
/** Then the opcode of ArtDmx low byte first, and the protocol version. */
const HEAD = [...NAME, 0x00, 0x50, 0, VERSION];
const LEVELS_AT = 18;

/** The UDP payload of an ArtDmx packet: 530 bytes for 512 levels. */
export const artDmxPacket = ({ universe, sequence, physical, levels }: ArtDmxFrame): Uint8Array => {
  const { length } = levels;
  if (length < 2 || length > 512 || length % 2 === 1) throw new RangeError(`Bug: ${length} slots in a packet`);
  const bytes = new Uint8Array(LEVELS_AT + length);
  bytes.set([...HEAD, sequence, physical, universe & 0xff, universe >> 8, length >> 8, length & 0xff]);
  bytes.set(levels, LEVELS_AT);
  return bytes;
};

/**
 * How RDM travels over Art-Net 4 (secondary: read in open implementations, read back by another program's dissector). The
 * gateway searches by itself and hands over its table of devices; questions go through it one by one.
 */
export type ArtRdmMessage =
  /** Asks for the table of devices of a universe. */
  | { readonly kind: "table-request"; readonly universe: number }
  /** Tells the gateway to forget its table and search anew. */
  | { readonly kind: "search"; readonly universe: number }
  /** One block of a table of devices, or the word that there is none. */
  | {
      readonly kind: "table";
      readonly universe: number;
      readonly available: boolean;
      /** In the whole table, over all blocks. */
      readonly total: number;
      readonly block: number;
      /** Numbers of 48 bits. */
      readonly uids: readonly number[];
    }
  /** One RDM packet, from its start code on. */
  | { readonly kind: "rdm"; readonly universe: number; readonly packet: Uint8Array };

const OPCODES = { "table-request": 0x8000, table: 0x8100, search: 0x8200, rdm: 0x8300 } as const;
/** The standard of RDM in use, and the only one. */
const RDM_VERSION = 1;
const START_CODE = 0xcc;
const FULL = 0x00;
const NOT_AVAILABLE = 0xff;
const FLUSH = 0x01;
/** The UDP payload of an Art-Net packet that carries RDM. */
export const artRdmPacket = (message: ArtRdmMessage): Uint8Array =>
  Uint8Array.of(...NAME, ...lowFirst(OPCODES[message.kind]), 0, VERSION, ...bodyOf(message));

const bodyOf = (message: ArtRdmMessage): readonly number[] => {
  const [net, address] = [message.universe >> 8, message.universe & 0xff];
  switch (message.kind) {
    case "table-request":
      return [...zeros(2 + 7), net, FULL, 1, address, ...zeros(31)];
    case "search":
      return [...zeros(2 + 7), net, FLUSH, address];
    case "table":
      return [
        ...[RDM_VERSION, 1, ...zeros(6), 1, net, message.available ? FULL : NOT_AVAILABLE, address],
        ...[message.total >> 8, message.total & 0xff, message.block, message.uids.length],
        ...message.uids.flatMap(sixBytes),
      ];
    case "rdm":
      return [RDM_VERSION, 0, ...zeros(7), net, 0, address, ...message.packet.subarray(1)];
    default:
      return message satisfies never;
  }
};

/** What a UDP payload says of RDM; undefined for everything else, and for what breaks off. */
export const artRdmIn = (bytes: Uint8Array): ArtRdmMessage | undefined => {
  if (NAME.some((byte, at) => bytes[at] !== byte)) return undefined;
  const opcode = (bytes[8] ?? 0) + 256 * (bytes[9] ?? 0);
  if (opcode === OPCODES["table-request"])
    return bytes.length < 25 ? undefined : { kind: "table-request", universe: universeAt(bytes, 24) };
  if (opcode === OPCODES.search) return bytes.length < 24 ? undefined : searchIn(bytes);
  if (opcode === OPCODES.table) return tableIn(bytes);
  if (opcode !== OPCODES.rdm || bytes.length < 24) return undefined;
  const packet = Uint8Array.of(START_CODE, ...bytes.subarray(24));
  return { kind: "rdm", universe: universeAt(bytes, 23), packet };
};

const searchIn = (bytes: Uint8Array): ArtRdmMessage | undefined =>
  bytes[22] === FLUSH ? { kind: "search", universe: universeAt(bytes, 23) } : undefined;

const tableIn = (bytes: Uint8Array): ArtRdmMessage | undefined => {
  const count = bytes[27];
  if (count === undefined || bytes.length < 28 + 6 * count) return undefined;
  return {
    kind: "table",
    universe: universeAt(bytes, 23),
    available: bytes[22] === FULL,
    total: (bytes[24] ?? 0) * 256 + (bytes[25] ?? 0),
    block: bytes[26] ?? 0,
    uids: Array.from({ length: count }, (_, index) =>
      bytes.subarray(28 + 6 * index, 34 + 6 * index).reduce(shifted, 0),
    ),
  };
};

const shifted = (sum: number, byte: number) => sum * 256 + byte;
/** All messages have the net at the same place; `address` is where sub-net and universe stand, a number of bytes from the start. */
const universeAt = (bytes: Uint8Array, address: number) => (bytes[21] ?? 0) * 256 + (bytes[address] ?? 0);
const lowFirst = (value: number) => [value & 0xff, value >> 8];
const zeros = (count: number): readonly number[] => Array(count).fill(0);
const sixBytes = (uid: number) => Array.from({ length: 6 }, (_, index) => Math.floor(uid / 256 ** (5 - index)) % 256);
