import { performance } from "node:perf_hooks";
import { type DmxLine, LineError, type Meeting, type RdmDoor } from "../../run/ports.ts";
import { type LineChannel, reopenedLine } from "../../run/shell/reopened-line.ts";
import {
  decode,
  type InterfaceReply,
  levelsMessage,
  NOTHING_PENDING,
  parametersRequest,
  replyOf,
  serialNumberRequest,
} from "../../wire/messages.ts";
import { introduce, meetOnUsb } from "./devices.ts";
import { FramedRdm } from "./framed-rdm.ts";
import { openPort, type PortEars, type PortSpeech } from "./port.ts";

/** A DMX line whose fixtures can also be asked questions, on the same cable. */
export interface AskedLine extends DmxLine {
  readonly rdm: RdmDoor;
}

/**
 * A DMX line on a USB-DMX interface that speaks framed serial messages. `heard` is told what the interface says of itself;
 * many say nothing, so nothing depends on it. The interface repeats the last levels by itself when nothing new comes.
 * Questions are sent between two frames of levels; a frame that must wait for an answer is dropped, at most two in a row.
 * Its functions reject with LineError, and opening it with StrangerError where it is another interface than before.
 */
export const framedLine = (path: string, heard: (reply: InterfaceReply) => void = () => {}): AskedLine => {
  let asking: FramedRdm | undefined;
  const line = reopenedLine(`serial:${path}`, async (lost, meeting) => {
    const usb = meeting ? await meetOnUsb(path, meeting) : "";
    const number = new NumberSaid();
    const ears: PortEars = {
      received: listener((reply) => {
        asking?.hear(reply);
        number.hear(reply);
        heard(reply);
      }),
      lost: (error) => {
        asking?.close();
        if (!number.lost(error)) lost(error);
      },
    };
    const port = await openPort(path, framed, ears);
    if (meeting) await met(path, port, { meeting, usb, number });
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

/**
 * Many interfaces say nothing of themselves. Looked at often rather than timed once, because a swamped computer finds the
 * time over before it finds the answer; three times as long where the one before had a number.
 */
const LOOK_EVERY_MS = 50;
const LOOKS = 20;
/** What an interface says that was never given a number (from memory, no source). */
const NO_NUMBER = 0xffffffff;

/** The interface's own number, as long as it is waited for. */
class NumberSaid {
  private end: ((said: string | LineError) => void) | undefined;

  hear(reply: InterfaceReply): void {
    if (reply.kind === "serial-number") this.end?.(reply.serialNumber === NO_NUMBER ? "" : String(reply.serialNumber));
    // Asked afterwards and answered before: it has no number to say.
    if (reply.kind === "parameters") this.end?.("");
  }

  /** True where the loss ends the waiting, which then tells it. */
  lost(error: LineError): boolean {
    const { end } = this;
    end?.(error);
    return end !== undefined;
  }

  /** Empty when it says none. Rejects with LineError when the line is lost meanwhile. */
  async asked(looks: number): Promise<string> {
    let watch: NodeJS.Timeout | undefined;
    const said = await new Promise<string | LineError>((resolve) => {
      this.end = resolve;
      let left = looks;
      watch = setInterval(() => {
        left -= 1;
        if (left <= 0) resolve("");
      }, LOOK_EVERY_MS);
    });
    clearInterval(watch);
    this.end = undefined;
    if (typeof said !== "string") throw said;
    return said;
  }
}

/** Asks who is there, after the system has not spoken against it. A stranger is given back without a frame. */
const met = async (
  path: string,
  port: LineChannel,
  { meeting, usb, number }: { readonly meeting: Meeting; readonly usb: string; readonly number: NumberSaid },
): Promise<void> => {
  try {
    const said = await number.asked(meeting.known?.number ? 3 * LOOKS : LOOKS);
    introduce(path, meeting, { number: said, usb });
  } catch (error) {
    await port.close();
    throw error;
  }
};

const framed: PortSpeech = {
  greet: async (wires) => {
    wires.write(serialNumberRequest());
    wires.write(parametersRequest());
  },
  // A write that fails is told by the port's own error and close.
  say: (wires, message) => new Promise((resolve) => wires.write(message, undefined, () => resolve())),
};

const listener = (heard: (reply: InterfaceReply) => void) => {
  let pending = NOTHING_PENDING;
  return (bytes: Uint8Array) => {
    const decoded = decode(pending, bytes);
    pending = decoded.pending;
    for (const message of decoded.messages) heard(replyOf(message));
  };
};
