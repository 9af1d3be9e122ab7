import { type Frame, type Seconds, secondsOf } from "../../domain/units.ts";
import type { RigConduct } from "../machine/input.ts";
import type { Clock, RdmDoor } from "../ports.ts";
import {
  type FramesRequest,
  type FromFrames,
  mistakeOf,
  monotonicSeconds,
  sentError,
  type ToFrames,
} from "./frame-messages.ts";
import { type Beat, type FrameSender, type OpenedLines, STOOD_STILL, sentHere } from "./frame-sender.ts";

/** What the process that sends frames has of the world. */
export interface HostDoors {
  readonly clock: Clock;
  readonly lines: OpenedLines;
  readonly questions: ReadonlyMap<number, RdmDoor>;
}

/** For how many frames the dark goes out after the run is gone, so that one of them arrives. */
const LAST_FRAMES = 8;

/**
 * Sends the frames of a run that is another process. Whatever moves goes dark by itself, before its next frame, where
 * nothing was sent for a second, where the run has not said a word for one, or where it is gone: nobody could have stopped it.
 */
export class FrameHost {
  private readonly tell: (message: FromFrames) => void;
  private readonly doors: HostDoors;
  private sender: FrameSender | undefined;
  private stop = () => {};
  /** Of the last beat, and of the last that the run has heard of. */
  private beats: Frame = 0;
  private heard: Frame = 0;
  private isBehind = false;
  private standstills = 0;
  /** The number of what was asked for last, and whether it plays. */
  private play = 0;
  private isPlaying = false;
  private played: { readonly key: string; readonly rig: RigConduct } | undefined;
  private isMistaken = false;
  private isClosed = false;
  private last: { framesLeft: number; readonly over: () => void } | undefined;

  constructor(doors: HostDoors, tell: (message: FromFrames) => void) {
    this.doors = doors;
    this.tell = tell;
  }

  /** Does what the program asks of the process that sends frames, and answers where it asks something. */
  hear(message: ToFrames): void {
    if (message.kind === "begin") this.begin(message);
    else if (message.kind === "play") this.plays(message);
    else if (message.kind === "go-dark") this.goDark();
    else if (message.kind === "heard") this.heard = message.beat;
    else
      this.answer(message).then(
        (heard) => this.tell({ kind: "done", request: message.request, heard }),
        (error) => this.tell({ kind: "failed", request: message.request, error: sentError(error) }),
      );
  }

  /** We are wrong, here: dark, and the run is told to end. */
  mistaken(error: unknown): void {
    if (this.isMistaken) return;
    this.isMistaken = true;
    this.goDark();
    this.tell(mistakeOf(error));
  }

  /** The run is gone, without a word or at its end: resolves when the last frames are out and every line is given back. */
  async alone(): Promise<void> {
    this.goDark();
    if (this.sender && !this.isClosed)
      await new Promise<void>((resolve) => {
        this.last = { framesLeft: LAST_FRAMES, over: resolve };
      });
    await this.close();
  }

  private begin({ spots, left }: Extract<ToFrames, { kind: "begin" }>): void {
    this.sender = sentHere(this.doors.lines)({
      clock: { ...this.doors.clock, now: monotonicSeconds },
      spots,
      left,
      ears: {
        beat: (gap, stoodStill, send) => this.beat(gap, stoodStill, send),
        played: (key, rig) => {
          this.isPlaying = false;
          this.played = { key, rig };
        },
        mistaken: (error) => this.mistaken(error),
      },
    });
    this.stop = this.sender.begin();
  }

  private plays({ play, standstills, key, parts, from }: Extract<ToFrames, { kind: "play" }>): void {
    this.play = play;
    this.isPlaying = standstills === this.standstills && !this.isMistaken;
    if (this.isPlaying) this.sender?.play(key, parts, from);
  }

  private goDark(): void {
    this.isPlaying = false;
    this.sender?.goDark();
  }

  private beat(gap: Frame, missed: Seconds | undefined, send: () => Beat): void {
    this.beats += gap;
    this.played = undefined;
    let sent: Beat = { at: monotonicSeconds(), key: "", frame: 0, isBefore: false, isStill: false };
    let stoodStill = missed;
    try {
      const silence = this.silence();
      stoodStill ??= silence;
      if (stoodStill !== undefined) {
        this.standstills += 1;
        if (this.isPlaying) this.goDark();
      }
      sent = send();
    } catch (error) {
      this.mistaken(error);
    }
    const { beats, play, played } = this;
    this.tell({ kind: "beat", beat: beats, gap, stoodStill, play, played, ...sent });
    this.countDown();
  }

  private countDown(): void {
    const { last } = this;
    if (!last) return;
    last.framesLeft -= 1;
    if (last.framesLeft <= 0) last.over();
  }

  /** For how long the run has not said a word, where that is a second; told once. */
  private silence(): Seconds | undefined {
    const behind = this.beats - this.heard;
    const [was, is] = [this.isBehind, behind >= STOOD_STILL];
    this.isBehind = is;
    return is && !was ? secondsOf(behind) : undefined;
  }

  private async answer(asked: FramesRequest) {
    if (asked.kind === "close") return this.close();
    if (asked.kind === "exchange") return this.questionsOn(asked.universe).exchange(asked.send);
    const { request, universe, meeting } = asked;
    await this.sender?.open(
      universe,
      (error) => this.tell({ kind: "lost", request, error: sentError(error) }),
      meeting && { known: meeting.known, met: (identity) => this.tell({ kind: "met", request, identity }) },
    );
    return undefined;
  }

  private questionsOn(universe: number): RdmDoor {
    const door = this.doors.questions.get(universe);
    if (!door) throw new Error(`Bug: nothing can be asked on universe ${universe}`);
    return door;
  }

  private async close(): Promise<undefined> {
    this.isClosed = true;
    this.stop();
    await this.doors.lines.close();
  }
}
