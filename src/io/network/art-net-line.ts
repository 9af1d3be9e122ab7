import type { DmxLine } from "../../run/ports.ts";
import { ART_NET_PORT, artDmxPacket } from "../../wire/art-dmx.ts";
import type { PacketWriter } from "./channel.ts";
import { networkLine } from "./network-line.ts";

/**
 * A DMX line over Art-Net, to one receiver by its IPv4 address. `universe` is net, sub-net and universe as one number from
 * 0 to 32767. Limber neither listens for receivers nor calls for them.
 */
export const artNetLine = (name: string, universe: number, to: string): DmxLine =>
  networkLine(name, { protocol: "Art-Net", address: to, port: ART_NET_PORT }, artNetWriter(universe));

/** Makes the packets of one universe, 0 to 32767. Art-Net knows no end of a stream, so there is no packet for it. */
export const artNetWriter = (universe: number): PacketWriter => {
  let sequence = 0;
  return {
    frame: (levels) => {
      sequence = (sequence % 255) + 1;
      return artDmxPacket({ universe, sequence, physical: 0, levels });
    },
    farewell: () => [],
  };
};
