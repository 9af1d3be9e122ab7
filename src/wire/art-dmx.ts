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

/** "Art-Net" and a zero, the opcode of ArtDmx low byte first, protocol version 14. */
const HEAD = [0x41, 0x72, 0x74, 0x2d, 0x4e, 0x65, 0x74, 0, 0x00, 0x50, 0, 14];
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
