import type { LineError } from "../../run/ports.ts";
import type { LineChannel } from "../../run/shell/reopened-line.ts";
import type { UdpSocket } from "./socket.ts";
import { adapterHangs, cableOut, networkTrouble, type Target } from "./trouble.ts";

/** How one universe is put into packets, one after the other. */
export interface PacketWriter {
  frame(levels: Uint8Array): Uint8Array;
  /** The end of the stream; nothing where there was none. */
  farewell(): readonly Uint8Array[];
}

/** How many frames, a second of them, lie between two looks at the address, and pass until an adapter that takes none is said to hang. */
const SECOND = 40;

/** Sends frames over a socket. `lost` is told at most once, and the socket is closed by then. */
export const channelOn = (
  socket: UdpSocket,
  target: Target,
  writer: PacketWriter,
  lost: (error: LineError) => void,
): LineChannel => {
  let over = false;
  let underway = false;
  let taken = 0;
  let droppedInARow = 0;
  const lose = (error: LineError) => {
    if (over) return;
    over = true;
    void socket.close();
    lost(error);
  };
  const fails = (cause: unknown) => lose(networkTrouble(target, cause));
  socket.broken(fails);
  const drop = () => {
    droppedInARow += 1;
    if (droppedInARow >= SECOND) lose(adapterHangs(target));
    return "dropped" as const;
  };
  const hand = (levels: Uint8Array) => {
    underway = true;
    droppedInARow = 0;
    const done = () => {
      underway = false;
    };
    socket.send(writer.frame(levels)).then(done, fails);
    return "sent" as const;
  };
  return {
    send: (levels) => {
      if (over) return "dropped";
      if (underway) return drop();
      taken += 1;
      if (taken % SECOND === 0 && !socket.hasAddress()) lose(cableOut(target));
      return over ? "dropped" : hand(levels);
    },
    close: async () => {
      if (over) return;
      over = true;
      for (const packet of writer.farewell()) await socket.send(packet).catch(() => {});
      await socket.close();
    },
  };
};
