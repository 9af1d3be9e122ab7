import { randomUUID } from "node:crypto";
import type { DmxLine } from "../../run/ports.ts";
import { reopenedLine } from "../../run/shell/reopened-line.ts";
import { ART_NET_PORT, artDmxPacket } from "../../wire/art-net.ts";
import { SACN_PORT, type SacnSource, sacnGroup, sacnPacket } from "../../wire/sacn.ts";
import { channelOn, openSocket, type PacketWriter, type Target } from "./channel.ts";

/** One source for all universes of this process, and another one with every start. */
const thisProgram: SacnSource = {
  cid: Uint8Array.from(Buffer.from(randomUUID().replaceAll("-", ""), "hex")),
  name: "Limber",
};

/**
 * A DMX line over streaming ACN (ANSI E1.31), to one receiver by its IPv4 address or to the universe's
 * multicast group. `universe` is 1 to 63999.
 */
export const sacnLine = (name: string, universe: number, to: string): DmxLine => {
  const address = to === "multicast" ? sacnGroup(universe) : to;
  return networkLine(name, { protocol: "sACN", address, port: SACN_PORT }, sacnWriter(thisProgram, universe));
};

/** The standard asks for three terminated packets at the end (ANSI E1.31, from memory). */
const FAREWELLS = 3;

/**
 * Makes the packets of one universe, 1 to 63999, with a sequence number that goes round from 0 to 255, and the
 * packets that end its stream (ANSI E1.31).
 */
export const sacnWriter = (source: SacnSource, universe: number): PacketWriter => {
  let last: Uint8Array | undefined;
  let sequence = -1;
  const next = (levels: Uint8Array, stream: "running" | "terminated") => {
    sequence = (sequence + 1) & 255;
    return sacnPacket({ source, universe, sequence, levels, stream });
  };
  return {
    frame: (levels) => {
      last = levels;
      return next(levels, "running");
    },
    farewell: () => {
      const levels = last;
      return levels === undefined ? [] : Array.from({ length: FAREWELLS }, () => next(levels, "terminated"));
    },
  };
};

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

/** A DMX line to one receiver on the network. After a loss it is open again when the receiver does not refuse the last frame. */
const networkLine = (name: string, target: Target, writer: PacketWriter): DmxLine => {
  let again: Uint8Array | undefined;
  const remembering: PacketWriter = {
    ...writer,
    frame: (levels) => {
      again = writer.frame(levels);
      return again;
    },
  };
  return reopenedLine(name, async (lost) => channelOn(await openSocket(target, again), target, remembering, lost));
};
