import type { DmxLine, LineError, Meeting } from "../ports.ts";

/** One opening of what a DMX line goes through: a port, a socket. After it is lost or closed it is of no further use. */
export interface LineChannel {
  /** "dropped" while the frame before has not been taken: nothing is queued. */
  send(levels: Uint8Array): "sent" | "dropped";
  /** Lets the last frame go out, then gives everything back. Never rejects. */
  close(): Promise<void>;
}

/** Opens a channel once; `meeting` is left out where nobody asks who is at the other end. */
type OpensChannel = (lost: (error: LineError) => void, meeting: Meeting | undefined) => Promise<LineChannel>;

/** A DMX line that gets a new channel with every opening. Opening and closing wait for each other: a port is locked until it has been given back. */
export const reopenedLine = (name: string, open: OpensChannel): DmxLine => {
  let channel: LineChannel | undefined;
  let turn: Promise<void> = Promise.resolve();
  const inTurn = (work: () => Promise<void>) => {
    const done = turn.then(work);
    turn = done.catch(() => {});
    return done;
  };
  const release = async () => {
    const old = channel;
    channel = undefined;
    await old?.close();
  };
  return {
    name,
    open: (lost, meeting) =>
      inTurn(async () => {
        await release();
        channel = await open(lost, meeting);
      }),
    send: (levels) => channel?.send(levels) ?? "dropped",
    close: () => inTurn(release),
  };
};
