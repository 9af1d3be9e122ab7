import { performance } from "node:perf_hooks";
import { type DmxLine, LineError, type RdmDoor } from "../../run/ports.ts";
import { reopenedLine } from "../../run/shell/reopened-line.ts";
import { decode, NOTHING_PENDING } from "../../wire/decode.ts";
import { type Reply, replyOf } from "../../wire/reply.ts";
import { levelsMessage, parametersRequest } from "../../wire/requests.ts";
import { FramedRdm } from "./framed-rdm.ts";
import { openPort, type PortSpeech } from "./port.ts";

/** A DMX line whose fixtures can also be asked questions, on the same cable. */
export interface AskedLine extends DmxLine {
  readonly rdm: RdmDoor;
}

/**
 * A DMX line on a USB-DMX interface that speaks framed serial messages. `heard` is told what the interface says of itself;
 * many say nothing, so nothing depends on it. The interface repeats the last levels by itself when nothing new comes.
 * Questions are sent between two frames of levels; a frame that must wait for an answer is dropped, at most two in a row.
 */
export const framedLine = (path: string, heard: (reply: Reply) => void = () => {}): AskedLine => {
  let asking: FramedRdm | undefined;
  const line = reopenedLine(`serial:${path}`, async (lost) => {
    const received = listener((reply) => {
      asking?.hear(reply);
      heard(reply);
    });
    const port = await openPort(path, framed, {
      received,
      lost: (error) => {
        asking?.close();
        lost(error);
      },
    });
    const turn = new FramedRdm((message) => port.send(message));
    asking = turn;
    return {
      send: (levels) => {
        if (turn.holdsUp()) return "dropped";
        const fate = port.send(levelsMessage(levels));
        if (fate === "sent") turn.frameSent(performance.now());
        return fate;
      },
      close: async () => {
        turn.close();
        await port.close();
      },
    };
  });
  const rdm: RdmDoor = {
    name: line.name,
    open: () => line.open(() => {}),
    exchange: async (question) => {
      if (!asking) throw new LineError("unplugged", `${path} is not open`);
      return asking.exchange(question, () => performance.now());
    },
    searched: { kind: "by-us" },
    close: () => line.close(),
  };
  return { ...line, rdm };
};

const framed: PortSpeech = {
  greet: async (wires) => {
    wires.write(parametersRequest());
  },
  // A write that fails is told by the port's own error and close.
  say: (wires, message) => new Promise((resolve) => wires.write(message, undefined, () => resolve())),
};

const listener = (heard: (reply: Reply) => void) => {
  let pending = NOTHING_PENDING;
  return (bytes: Uint8Array) => {
    const decoded = decode(pending, bytes);
    pending = decoded.pending;
    for (const message of decoded.messages) heard(replyOf(message));
  };
};
