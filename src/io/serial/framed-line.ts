import type { DmxLine } from "../../run/ports.ts";
import { reopenedLine } from "../../run/shell/reopened-line.ts";
import { decode, NOTHING_PENDING } from "../../wire/decode.ts";
import { type Reply, replyOf } from "../../wire/reply.ts";
import { levelsMessage, parametersRequest } from "../../wire/requests.ts";
import { openPort, type PortSpeech } from "./port.ts";

/**
 * A DMX line on a USB-DMX interface that speaks framed serial messages. `heard` is told what the interface says of itself;
 * many say nothing, so nothing depends on it. The interface repeats the last levels by itself when nothing new comes.
 */
export const framedLine = (path: string, heard: (reply: Reply) => void = () => {}): DmxLine =>
  reopenedLine(`serial:${path}`, (lost) => openPort(path, framed, { received: listener(heard), lost }));

const framed: PortSpeech = {
  greet: async (wires) => {
    wires.write(parametersRequest());
  },
  // A write that fails is told by the port's own error and close.
  say: (wires, levels) => new Promise((resolve) => wires.write(levelsMessage(levels), undefined, () => resolve())),
};

const listener = (heard: (reply: Reply) => void) => {
  let pending = NOTHING_PENDING;
  return (bytes: Uint8Array) => {
    const decoded = decode(pending, bytes);
    pending = decoded.pending;
    for (const message of decoded.messages) heard(replyOf(message));
  };
};
