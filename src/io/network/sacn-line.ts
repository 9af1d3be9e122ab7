import { randomUUID } from "node:crypto";
import type { DmxLine } from "../../run/ports.ts";
import { SACN_PORT, type SacnSource, sacnGroup, sacnPacket } from "../../wire/sacn.ts";
import type { PacketWriter } from "./channel.ts";
import { networkLine } from "./network-line.ts";

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
