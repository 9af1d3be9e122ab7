import type { DmxLine } from "../../run/ports.ts";
import { reopenedLine } from "../../run/shell/reopened-line.ts";
import { channelOn, type PacketWriter } from "./channel.ts";
import { openSocket } from "./socket.ts";
import type { Target } from "./trouble.ts";

/** A DMX line to one receiver on the network. After a loss it is open again when the receiver does not refuse the last frame. */
export const networkLine = (name: string, target: Target, writer: PacketWriter): DmxLine => {
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
