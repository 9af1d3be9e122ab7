import { createSocket } from "node:dgram";
import { type Arrival, answering } from "../line/talk.ts";

/** The one independent reader: a process of its own that notes when packets of streaming ACN come, by universe. */
const arrivals = new Map<number, Arrival[]>();
let socket = createSocket("udp4");

/** Where universe and slot 1 stand: ANSI E1.31 (secondary). */
const [UNIVERSE_AT, SLOT_1_AT] = [113, 126];

const listen = async (address: string) => {
  arrivals.clear();
  socket = createSocket({ type: "udp4", recvBufferSize: 4_000_000 }, (packet) => {
    const universe = packet.readUInt16BE(UNIVERSE_AT);
    const at = Number(process.hrtime.bigint()) / 1e6;
    const seen = arrivals.get(universe) ?? [];
    arrivals.set(universe, seen);
    seen.push({ at, slots: [...packet.subarray(SLOT_1_AT, SLOT_1_AT + 8)] });
  });
  await new Promise<void>((resolve) => socket.bind(5568, address, resolve));
  return "listening";
};

answering(async (question: { readonly listen: string } | "report") => {
  if (question !== "report") return listen(question.listen);
  socket.close();
  return [...arrivals.entries()].sort(([a], [b]) => a - b).map(([, seen]) => seen);
});
