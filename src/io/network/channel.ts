import { createSocket, type Socket } from "node:dgram";
import { networkInterfaces } from "node:os";
import { LineError, type LineTrouble } from "../../run/ports.ts";
import type { LineChannel } from "../../run/shell/reopened-line.ts";

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

/** UDP to one receiver. */
export interface UdpSocket {
  /** Resolves when the system has taken the packet. */
  send(packet: Uint8Array): Promise<void>;
  /** Told of errors that belong to no packet, such as a refusal. */
  broken(listen: (cause: Error) => void): void;
  /** False when the address it sends from is no longer this computer's: what is seen here of a cable that came out. */
  hasAddress(): boolean;
  close(): Promise<void>;
}

/** A receiver on the same network refuses sooner than this; one that takes a packet says nothing. */
const REFUSAL_MS = 200;

/**
 * Opens a UDP socket that is connected, so that it hears nobody but its receiver, learns when that refuses, and may not
 * broadcast. Where `again` is given it is sent first and must not be refused. Rejects with LineError.
 */
export const openSocket = async (target: Target, again: Uint8Array | undefined): Promise<UdpSocket> => {
  const socket = createSocket("udp4");
  try {
    await connected(socket, target);
    const from = socket.address().address;
    if (!isOurs(from)) throw cableOut(target);
    if (again) await notRefused(socket, again);
    return {
      send: (packet) => sent(socket, packet),
      broken: (listen) => socket.on("error", listen),
      hasAddress: () => isOurs(from),
      close: () => closed(socket),
    };
  } catch (cause) {
    await closed(socket);
    throw networkTrouble(target, cause);
  }
};

const connected = (socket: Socket, { port, address }: Target) =>
  new Promise<void>((resolve, reject) => {
    socket.once("error", reject);
    // The types leave out that a failed connection is told to this listener too.
    socket.connect(port, address, (...[cause]: readonly Error[]) => {
      socket.off("error", reject);
      if (cause) reject(cause);
      else resolve();
    });
  });

const notRefused = (socket: Socket, packet: Uint8Array) =>
  new Promise<void>((resolve, reject) => {
    const over = (act: () => void) => {
      clearTimeout(enough);
      socket.off("error", refused);
      act();
    };
    const refused = (cause: Error) => over(() => reject(cause));
    const enough = setTimeout(() => over(resolve), REFUSAL_MS);
    socket.on("error", refused);
    sent(socket, packet).catch(refused);
  });

const sent = (socket: Socket, packet: Uint8Array) =>
  new Promise<void>((resolve, reject) => {
    socket.send(packet, (cause) => (cause ? reject(cause) : resolve()));
  });

const closed = (socket: Socket) => new Promise<void>((resolve) => socket.close(() => resolve()));

/** An adapter without its cable has no addresses in this list. */
const isOurs = (address: string) =>
  Object.values(networkInterfaces()).some((entries) => entries?.some((entry) => entry.address === address));

/** Where frames go. */
export interface Target {
  /** "sACN", for words. */
  readonly protocol: string;
  /** IPv4. */
  readonly address: string;
  readonly port: number;
}

type TargetWords = (target: Target) => string;

const noWay: TargetWords = ({ address }) =>
  `this computer has no way to ${address}: network cable in, and an address of its own on the same network?`;

const hangs: TargetWords = ({ address }) =>
  `the network adapter takes no more data for ${address}: unplug it and plug it in again`;

/** What the system says when it cannot send, by its own names. */
const CAUSES: Readonly<Record<string, readonly [LineTrouble, TargetWords]>> = {
  ENETUNREACH: ["unreachable", noWay],
  EADDRNOTAVAIL: ["unreachable", noWay],
  ENETDOWN: ["unreachable", noWay],
  EHOSTUNREACH: [
    "unreachable",
    ({ address }) => `${address} cannot be reached: is it switched on, and on the same network?`,
  ],
  ECONNREFUSED: [
    "refused",
    ({ address, protocol }) =>
      `${address} is there but takes no ${protocol}: another address was meant, or ${protocol} is switched off in it`,
  ],
  EPERM: [
    "no-permission",
    ({ address, protocol, port }) =>
      `a firewall on this computer keeps ${protocol} from ${address}: it must let UDP out to port ${port}`,
  ],
  EACCES: [
    "refused",
    ({ address }) => `${address} is a broadcast address, which would reach everything: name the one receiver`,
  ],
  ENOBUFS: ["stalled", hangs],
};

/** Why nothing can be sent, in words a technician can act on. A cause that is a LineError already stays as it is. */
export const networkTrouble = (target: Target, cause: unknown): LineError => {
  if (cause instanceof LineError) return cause;
  const known = cause instanceof Error && "code" in cause ? CAUSES[String(cause.code)] : undefined;
  const [code, words] = known ?? ["refused", noneOfThese(cause)];
  return new LineError(code, words(target), { cause });
};

const noneOfThese =
  (cause: unknown): TargetWords =>
  ({ address, protocol }) =>
    `${protocol} cannot be sent to ${address}: ${String(cause)}`;

/** The error for a network cable that is out, or a receiver that is switched off. */
const cableOut = ({ address }: Target): LineError =>
  new LineError("unplugged", `the network cable on the way to ${address} is out, or the other end is switched off`);

/** The error for a network adapter that takes no more packets. */
const adapterHangs = (target: Target): LineError => new LineError("stalled", hangs(target));
