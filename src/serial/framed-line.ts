import type { DmxLine } from "../ports.ts";
import { decode, NOTHING_PENDING } from "../wire/decode.ts";
import { type Reply, replyOf } from "../wire/reply.ts";
import { levelsMessage, parametersRequest } from "../wire/requests.ts";
import { openPort, type Port } from "./port.ts";

/**
 * A DMX line on a USB-DMX interface that speaks framed serial messages. `heard` is told what the interface says of itself;
 * many say nothing, so nothing depends on it. The interface repeats the last levels by itself when nothing new comes.
 */
export const framedLine = (path: string, heard: (reply: Reply) => void = () => {}): DmxLine => {
  let port: Port | undefined;
  let turn: Promise<void> = Promise.resolve();
  /** Opening and closing wait for each other: the port is locked until it has been given back. */
  const inTurn = (work: () => Promise<void>) => {
    const done = turn.then(work);
    turn = done.catch(() => {});
    return done;
  };
  const release = async () => {
    const old = port;
    port = undefined;
    await old?.close();
  };
  return {
    name: `serial:${path}`,
    open: (lost) =>
      inTurn(async () => {
        await release();
        port = await openPort(path, parametersRequest(), { received: listener(heard), lost });
      }),
    send: (levels) => port?.write(levelsMessage(levels)) ?? "dropped",
    close: () => inTurn(release),
  };
};

const listener = (heard: (reply: Reply) => void) => {
  let pending = NOTHING_PENDING;
  return (bytes: Uint8Array) => {
    const decoded = decode(pending, bytes);
    pending = decoded.pending;
    for (const message of decoded.messages) heard(replyOf(message));
  };
};
