/** One universe's levels as streaming ACN carries them (ANSI E1.31; layout secondary: read in open implementations). */
export interface SacnFrame {
  readonly source: SacnSource;
  /** 1 to 63999. */
  readonly universe: number;
  /** 0 to 255, one more with every packet of this universe. */
  readonly sequence: number;
  /** 1 to 512 of them, slot 1 first. */
  readonly levels: Uint8Array;
  /** Terminated: the last packets of a stream, so that receivers need not wait for its loss. */
  readonly stream: "running" | "terminated";
}

/** Who sends. Receivers take two sources with one CID for the same. */
export interface SacnSource {
  /** 16 bytes. */
  readonly cid: Uint8Array;
  /** For people to read; at most 63 bytes of UTF-8. */
  readonly name: string;
}

export const SACN_PORT = 5568;

/** The standard's middle: 0 to 200, the highest is followed. */
const PRIORITY = 100;
const TERMINATED = 0x40;
const NAME_BYTES = 64;
/** Where each layer begins to count its own length. */
const LAYERS = [16, 38, 115] as const;
/** Start code 0 (levels) is at this byte, and slot n is n bytes after it. */
const START_CODE_AT = 125;

/** The UDP payload of an sACN data packet (ANSI E1.31): 638 bytes for 512 levels. */
export const sacnPacket = ({ source, universe, sequence, levels, stream }: SacnFrame): Uint8Array => {
  const name = new TextEncoder().encode(source.name);
  if (levels.length < 1 || levels.length > 512) throw new RangeError(`Bug: ${levels.length} slots in a packet`);
  if (source.cid.length !== 16 || name.length >= NAME_BYTES) throw new RangeError("Bug: not a source");
  const bytes = new Uint8Array(START_CODE_AT + 1 + levels.length);
  const put = (at: number, ...values: readonly number[]) => bytes.set(values, at);
  put(0, 0, 16, 0, 0, ...PACKET_IDENTIFIER);
  for (const at of LAYERS) put(at, 0x70 | ((bytes.length - at) >> 8), (bytes.length - at) & 0xff);
  put(18, 0, 0, 0, 4, ...source.cid);
  put(40, 0, 0, 0, 2, ...name);
  put(108, PRIORITY, 0, 0, sequence, stream === "terminated" ? TERMINATED : 0, universe >> 8, universe & 0xff);
  put(117, 2, 0xa1, 0, 0, 0, 1, (levels.length + 1) >> 8, (levels.length + 1) & 0xff);
  bytes.set(levels, START_CODE_AT + 1);
  return bytes;
};

/** "ASC-E1.17" and three zeros. */
const PACKET_IDENTIFIER = [0x41, 0x53, 0x43, 0x2d, 0x45, 0x31, 0x2e, 0x31, 0x37, 0, 0, 0];

/** The multicast group of a universe, 1 to 63999, as "239.255.0.1" (ANSI E1.31). */
export const sacnGroup = (universe: number): string => `239.255.${universe >> 8}.${universe & 0xff}`;
