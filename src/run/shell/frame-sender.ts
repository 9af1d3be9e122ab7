import { FRAMES_PER_SECOND, type Frame, type Seconds, secondsOf } from "../../domain/units.ts";
import type { Spot } from "../batch/batch.ts";
import type { LeftSpot, PlayedPart } from "../batch/change.ts";
import type { RigConduct, WhatIsOut } from "../machine/input.ts";
import type { Clock, LineError, Meeting, Tick } from "../ports.ts";
import { Player } from "./player.ts";

/** Frames between two ticks from which on a fixture may have given up waiting: a second, as it is told by DMX512 (ANSI E1.11, secondary: 1.25 s). */
export const STOOD_STILL: Frame = FRAMES_PER_SECOND;

/** For how many frames nothing may move while a fixture is asked: an answer holds up two of them at most. */
const STILL_FRAMES: Frame = 4;

/** One line as the shell of a single fixture sees it, opened and reopened as one. */
export interface OpenedLine {
  open(lost: (error: LineError) => void, meeting?: Meeting): Promise<void>;
  send(levels: Uint8Array): "sent" | "dropped";
  close(): Promise<void>;
}

/** All lines of a run, by their universes. */
export interface OpenedLines {
  /** Opens, or opens anew after a loss, of which `lost` is told at most once per opening. Rejects as `DmxLine` does. */
  open(universe: number, lost: (error: LineError) => void, meeting?: Meeting): Promise<void>;
  /** 512 levels, slot 1 first. "dropped" when the last frame has not left yet or the line is not open. */
  send(universe: number, levels: Uint8Array): "sent" | "dropped";
  /** Closes every line, also one that is just being opened. Never rejects. */
  close(): Promise<void>;
}

/** A run with one line: it carries the only universe there is. */
export const onlyLine = (line: OpenedLine): OpenedLines => ({
  open: (_universe, lost, meeting) => line.open(lost, meeting),
  send: (_universe, levels) => line.send(levels),
  close: () => line.close(),
});

/** Sends the frames of a run at every beat: what plays, or what was last out, held. By the run itself or by a process of its own. */
export interface FrameSender {
  /** Begins to beat. Call what is returned to end it: nothing is told after that. */
  begin(): () => void;
  play(key: string, parts: readonly PlayedPart[], from: Frame): void;
  /** Whatever played is over: dark, and every axis holds where it was last commanded to stand. */
  goDark(): void;
  /** The frame of the step that was out at a moment of the run's clock, and the seconds since its frame 0; zeros when nothing plays. */
  standing(at: Seconds): WhatIsOut;
  /** Opens a line, or opens it anew after a loss, of which `lost` is told at most once per opening. Rejects as `DmxLine` does. */
  open(universe: number, lost: (error: LineError) => void, meeting?: Meeting): Promise<void>;
  /** Closes every line, also one that is just being opened. Never rejects. */
  close(): Promise<void>;
}

/** What a sender of frames tells the run. */
export interface FrameEars {
  /**
   * One beat, `gap` frames after the one before. `stoodStill`: for how many seconds nothing was sent, or nobody could have
   * stopped anything; undefined in most beats. The frame goes out when `send` is called, which gives what is out then.
   */
  beat(gap: Frame, stoodStill: Seconds | undefined, send: () => Beat): void;
  /** The last frame of a playing is out. */
  played(key: string, rig: RigConduct): void;
  /** A mistake of ours where frames are made. */
  mistaken(error: unknown): void;
}

/** What a beat of the clock has sent. */
export interface Beat {
  /** On the run's clock. */
  readonly at: Seconds;
  /** Of what plays; empty when nothing does, and in the beat in which it changes. */
  readonly key: string;
  /** The frame of it that is out. */
  readonly frame: Frame;
  /** Nothing was played in this run yet. */
  readonly isBefore: boolean;
  /** Nothing moves now, nor soon: a fixture can be asked. */
  readonly isStill: boolean;
}

/** What a run's frames are made for. */
export interface FramesOf {
  readonly clock: Clock;
  readonly spots: readonly Spot[];
  readonly left: readonly LeftSpot[];
  readonly ears: FrameEars;
}

/** Opens what sends the frames of a run; called once. */
export type OpensSender = (run: FramesOf) => FrameSender;

/** Frames are sent by the run itself. */
export const sentHere =
  (lines: OpenedLines): OpensSender =>
  (run) =>
    new SenderHere(lines, run);

class SenderHere implements FrameSender {
  private readonly lines: OpenedLines;
  private readonly clock: Clock;
  private readonly ears: FrameEars;
  private readonly player: Player;
  private lastFrame: Frame | undefined;
  private lastTickAt: Seconds = 0;

  constructor(lines: OpenedLines, { clock, spots, left, ears }: FramesOf) {
    this.lines = lines;
    this.clock = clock;
    this.ears = ears;
    const send = (universe: number, levels: Uint8Array) => lines.send(universe, levels);
    this.player = new Player(spots, send, (key, rig) => ears.played(key, rig), left);
  }

  begin(): () => void {
    return this.clock.start((tick) => {
      const gap = tick.frame - (this.lastFrame ?? tick.frame - 1);
      this.lastFrame = tick.frame;
      this.ears.beat(gap, gap >= STOOD_STILL ? secondsOf(gap) : undefined, () => this.send(tick));
    });
  }

  private send(tick: Tick): Beat {
    const { player } = this;
    const at = this.clock.now();
    this.lastTickAt = at;
    const { key } = player;
    player.tick(tick);
    return {
      at,
      key: player.key === key ? key : "",
      frame: player.standing(0).frame,
      isBefore: player.hasNotBegun,
      isStill: player.standsStill(STILL_FRAMES),
    };
  }

  play(key: string, parts: readonly PlayedPart[], from: Frame): void {
    this.player.play(key, parts, from);
  }

  goDark(): void {
    this.player.goDark();
  }

  standing(at: Seconds): WhatIsOut {
    return this.player.standing(at - this.lastTickAt);
  }

  open(universe: number, lost: (error: LineError) => void, meeting?: Meeting): Promise<void> {
    return this.lines.open(universe, lost, meeting);
  }

  close(): Promise<void> {
    return this.lines.close();
  }
}
