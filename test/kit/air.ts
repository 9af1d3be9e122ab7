import { type AddressInfo, connect, createServer, type Socket } from "node:net";

/** The air between a phone and the bench: a proxy (RFC 9110, CONNECT) that can hold everything up, or let nothing through. */
export interface Air {
  /** What Chromium is started with so that everything it asks goes through here. */
  readonly args: readonly string[];
  /** From now on nothing passes either way; what is said meanwhile waits, as in a stack that sends it again. */
  cut(): void;
  /** It passes again, what waited first. */
  mend(): void;
  /** Every piece takes so long either way, in milliseconds; none overtakes another. */
  slow(delay: () => number): void;
  close(): Promise<void>;
}

export const openAir = async (): Promise<Air> => {
  const state: AirState = { isCut: false, delay: () => 0, waiting: [] };
  const sockets = new Set<Socket>();
  const kept = (socket: Socket): Socket => {
    sockets.add(socket);
    return socket.on("error", () => {}).on("close", () => sockets.delete(socket));
  };
  const server = createServer((near) => {
    kept(near);
    near.once("data", (head) => {
      const [, host = "", port = ""] = /^CONNECT ([\d.]+):(\d+) /.exec(head.toString("latin1")) ?? [];
      const far = kept(connect(Number(port), host));
      const back = lane(state, near);
      const out = lane(state, far);
      back(Buffer.from("HTTP/1.1 200 Connected\r\n\r\n"));
      near.on("data", out).on("close", () => far.destroy());
      far.on("data", back).on("close", () => near.destroy());
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  return {
    // Chromium leaves its proxy out for this computer itself unless it is told not to.
    args: [`--proxy-server=127.0.0.1:${port}`, "--proxy-bypass-list=<-loopback>"],
    cut: () => {
      state.isCut = true;
    },
    mend: () => {
      state.isCut = false;
      for (const go of state.waiting.splice(0)) go();
    },
    slow: (delay) => {
      state.delay = delay;
    },
    close: () =>
      new Promise((resolve) => {
        for (const socket of sockets) socket.destroy();
        server.close(() => resolve());
      }),
  };
};

interface AirState {
  isCut: boolean;
  delay: () => number;
  readonly waiting: (() => void)[];
}

/** One way to one end: pieces in the order in which they came. */
const lane = (state: AirState, to: Socket): ((piece: Buffer) => void) => {
  let last = 0;
  return (piece) => {
    const due = Math.max(last, performance.now() + state.delay());
    last = due;
    const go = () => {
      if (state.isCut) state.waiting.push(go);
      else if (!to.destroyed) to.write(piece);
    };
    const wait = due - performance.now();
    if (wait <= 0) go();
    else setTimeout(go, wait);
  };
};
