import { createSocket, type Socket } from "node:dgram";
import { LineError, type RdmDoor } from "../../run/ports.ts";
import { ART_NET_PORT, type ArtRdmMessage, artRdmIn, artRdmPacket } from "../../wire/art-net.ts";
import type { Heard, ToSend } from "../../wire/rdm/dialogue.ts";
import type { Uid } from "../../wire/rdm/packet.ts";
import { networkTrouble } from "./channel.ts";

/** A gateway queues questions, so it is waited for longer than a cable. */
const ANSWER_MS = 1000;
const BROADCAST_MS = 30;
/** A gateway's own search of a full cable takes a few seconds; asked again in between, since packets get lost. */
const TABLE_MS = 6000;
const TABLE_AGAIN_MS = 1000;
/** How long a table must stay as it is before it counts as whole. */
const TABLE_QUIET_MS = 1500;

/**
 * Questions to fixtures behind an Art-Net gateway, which searches by itself. Its answers come to port 6454, so that
 * port is bound on this computer while the door is open, on the one address that has a way to the gateway, and nowhere
 * else. Its functions reject with LineError.
 */
export const artRdmDoor = (name: string, universe: number, gateway: string): RdmDoor => {
  const target = { protocol: "Art-Net", address: gateway, port: ART_NET_PORT };
  const listeners = new Set<(message: ArtRdmMessage) => void>();
  let socket: Socket | undefined;
  const send = (message: ArtRdmMessage): Promise<void> =>
    new Promise((resolve, reject) => {
      if (!socket) return reject(new LineError("unplugged", `${name} is not open`));
      socket.send(artRdmPacket(message), ART_NET_PORT, gateway, (cause) =>
        cause ? reject(networkTrouble(target, cause)) : resolve(),
      );
    });
  const listening: Listening = (until) =>
    new Promise((resolve) => {
      const { hear, stop } = until((value) => {
        listeners.delete(hear);
        stop();
        resolve(value);
      });
      listeners.add(hear);
    });
  return {
    name,
    open: async () => {
      socket = await boundTowards(gateway).catch((cause: unknown) => {
        throw bindTrouble(cause) ?? networkTrouble(target, cause);
      });
      socket.on("message", (bytes, { address }) => {
        const message = address === gateway ? artRdmIn(bytes) : undefined;
        if (message?.universe === universe) for (const hear of listeners) hear(message);
      });
    },
    exchange: async ({ packet, answered }) => {
      const answer = answerTo(answered, listening);
      await send({ kind: "rdm", universe, packet });
      return answer;
    },
    searched: {
      kind: "by-gateway",
      table: () => tableFrom(universe, send, listening),
      listens: `Art-Net's port ${ART_NET_PORT} is open on this computer while fixtures are asked, for ${gateway} only.`,
    },
    close: async () => {
      const open = socket;
      socket = undefined;
      await new Promise<void>((resolve) => (open ? open.close(() => resolve()) : resolve()));
    },
  };
};

type Listening = <T>(
  until: (done: (value: T) => void) => { hear(message: ArtRdmMessage): void; stop(): void },
) => Promise<T>;

/** What comes back, or that nothing does for as long as an answer may take; to a broadcast nobody answers. */
const answerTo = (answered: ToSend["answered"], listening: Listening): Promise<Heard> =>
  listening((done) => {
    const none: Heard = answered === "by-nobody" ? { kind: "nothing" } : { kind: "unheard" };
    const silent = setTimeout(() => done(none), answered === "by-nobody" ? BROADCAST_MS : ANSWER_MS);
    return {
      hear: (message) => {
        if (message.kind === "rdm") done({ kind: "bytes", bytes: message.packet });
      },
      stop: () => clearTimeout(silent),
    };
  });

/** Tells the gateway to search anew, then asks for its table until it has stayed the same for a while. */
const tableFrom = async (
  universe: number,
  send: (message: ArtRdmMessage) => Promise<void>,
  listening: Listening,
): Promise<readonly Uid[]> => {
  const found = new Set<Uid>();
  await send({ kind: "search", universe });
  const ask = () => void send({ kind: "table-request", universe }).catch(() => {});
  const again = setInterval(ask, TABLE_AGAIN_MS);
  const whole = listening<readonly Uid[]>((done) => {
    const finish = () => done([...found].sort((a, b) => a - b));
    let quiet = setTimeout(finish, TABLE_MS);
    const enough = setTimeout(finish, TABLE_MS);
    return {
      hear: (message) => {
        if (message.kind !== "table" || !message.available) return;
        const before = found.size;
        for (const uid of message.uids) found.add(uid);
        if (found.size === before && before > 0) return;
        clearTimeout(quiet);
        quiet = setTimeout(finish, TABLE_QUIET_MS);
      },
      stop: () => {
        clearTimeout(quiet);
        clearTimeout(enough);
      },
    };
  });
  ask();
  const uids = await whole;
  clearInterval(again);
  return uids;
};

/** The address of ours that has a way to the gateway is the one bound. */
const boundTowards = async (gateway: string): Promise<Socket> => {
  const ours = await addressTowards(gateway);
  const socket = createSocket({ type: "udp4" });
  await new Promise<void>((resolve, reject) => {
    socket.once("error", reject);
    socket.bind({ port: ART_NET_PORT, address: ours, exclusive: true }, () => {
      socket.off("error", reject);
      resolve();
    });
  });
  // A refusal is told here too: whoever waits finds out by the silence.
  socket.on("error", () => {});
  return socket;
};

const addressTowards = (gateway: string): Promise<string> => {
  const probe = createSocket("udp4");
  return new Promise<string>((resolve, reject) => {
    probe.once("error", reject);
    probe.connect(ART_NET_PORT, gateway, (...[cause]: readonly Error[]) =>
      cause ? reject(cause) : resolve(probe.address().address),
    );
  }).finally(() => probe.close());
};

const bindTrouble = (cause: unknown): LineError | undefined =>
  cause instanceof Error && "code" in cause && cause.code === "EADDRINUSE"
    ? new LineError(
        "busy",
        `another program on this computer listens to Art-Net (port ${ART_NET_PORT}): close it there first`,
        { cause },
      )
    : undefined;
