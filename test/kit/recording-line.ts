import { LineError, type LineTrouble } from "../../src/run/ports.ts";
import type { OpenedLine } from "../../src/run/shell/frame-sender.ts";

/** A DMX line that keeps every frame, with levers: it can be lost, and refuse to open again for a while. */
export class RecordingLine implements OpenedLine {
  readonly frames: Uint8Array[] = [];
  opened = 0;
  closed = 0;
  private lost: ((error: LineError) => void) | undefined;
  private refusals: LineTrouble[] = [];
  /** Called after every frame, so that a test can pull the cable at an exact one. */
  onFrame: (count: number) => void = () => {};

  async open(lost: (error: LineError) => void): Promise<void> {
    const trouble = this.refusals.shift();
    if (trouble) throw new LineError(trouble, `the test line is ${trouble}`);
    this.opened++;
    this.lost = lost;
  }

  send(levels: Uint8Array): "sent" | "dropped" {
    if (!this.lost) return "dropped";
    this.frames.push(levels.slice());
    this.onFrame(this.frames.length);
    return "sent";
  }

  async close(): Promise<void> {
    this.closed++;
    this.lost = undefined;
  }

  /** Lever: the cable comes out; so many openings fail before one succeeds. */
  pull(refusedOpenings: number): void {
    const { lost } = this;
    this.lost = undefined;
    this.refusals = Array<LineTrouble>(refusedOpenings).fill("unplugged");
    lost?.(new LineError("unplugged", "the cable is out"));
  }

  /** Lever: the next opening fails. */
  refuse(trouble: LineTrouble): void {
    this.refusals = [trouble];
  }
}
