import type { Milliseconds } from "../../domain/units.ts";
import { type InterfaceReply, rdmMessage } from "../../wire/messages.ts";
import type { Heard, ToSend } from "../../wire/rdm/dialogue.ts";

/** An interface that knows no RDM stays silent for ever; one that does says itself that nobody answered, long before. */
const UNHEARD_MS = 1000;
/** Nobody answers a broadcast; it has left by then. */
const BROADCAST_MS = 15;
/** How many frames of levels wait for an answer; the next goes out and the question is given up. */
const MOST_WAITING = 2;
/** Where levels are sent, the next frame of them comes within this time. */
const FRAME_MS = 60;

type Write = (message: Uint8Array) => "sent" | "dropped";

/** Whose turn it is on one opened port: the levels', or a question's. Levels come first. */
export class FramedRdm {
  private readonly write: Write;
  private question: { readonly end: (heard: Heard) => void } | undefined;
  private waiting = 0;
  private lastFrameAt: number | undefined;
  private frameWent: (() => void) | undefined;
  private closed = false;

  constructor(write: Write) {
    this.write = write;
  }

  /** Whether a frame of levels that wants to go out must be dropped, since an answer is still to come. */
  holdsUp(): boolean {
    if (!this.question) return false;
    this.waiting += 1;
    if (this.waiting <= MOST_WAITING) return true;
    this.question.end({ kind: "unheard" });
    return false;
  }

  /** Notes that a frame of levels went out; a question that waited for it may go now. `now` is in milliseconds. */
  frameSent(now: Milliseconds): void {
    this.lastFrameAt = now;
    this.frameWent?.();
  }

  /** Takes in what the interface says; an answer ends the question that is open. */
  hear(reply: InterfaceReply): void {
    if (reply.kind === "rdm-timeout") this.question?.end({ kind: "nothing" });
    // Bytes that the interface itself doubts are something all the same: of a search they are a collision.
    if (reply.kind === "received")
      this.question?.end({ kind: "bytes", bytes: reply.bytes.length > 0 ? reply.bytes : Uint8Array.of(0) });
  }

  /** Sends a packet after the next frame of levels and waits for what comes back; `now` is a clock in milliseconds. */
  async exchange({ packet, answered }: ToSend, now: () => Milliseconds): Promise<Heard> {
    await this.betweenFrames(now());
    while (!this.closed && this.write(rdmMessage(packet, answered)) === "dropped") await after(1);
    if (this.closed) return { kind: "nothing" };
    return new Promise((resolve) => {
      const silent = setTimeout(
        () => this.question?.end({ kind: "unheard" }),
        answered === "by-nobody" ? BROADCAST_MS : UNHEARD_MS,
      );
      this.waiting = 0;
      this.question = {
        end: (heard) => {
          clearTimeout(silent);
          this.question = undefined;
          resolve(heard);
        },
      };
    });
  }

  /** Ends the question that is open, as if nobody had answered, and takes no other. */
  close(): void {
    this.closed = true;
    this.question?.end({ kind: "nothing" });
    this.frameWent?.();
  }

  /** At once where no levels are sent just now; else when the next frame of them has left. */
  private async betweenFrames(now: Milliseconds): Promise<void> {
    if (this.lastFrameAt === undefined || now - this.lastFrameAt > FRAME_MS) return;
    await new Promise<void>((resolve) => {
      const enough = setTimeout(resolve, FRAME_MS);
      this.frameWent = () => {
        clearTimeout(enough);
        this.frameWent = undefined;
        resolve();
      };
    });
  }
}

const after = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));
