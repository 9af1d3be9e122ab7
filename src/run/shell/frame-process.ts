import { FRAME_SECONDS, FRAMES_PER_SECOND, type Frame, type Seconds, secondsOf } from "../../domain/units.ts";
import type { PlayedPart } from "../batch/change.ts";
import type { WhatIsOut } from "../machine/input.ts";
import type { LineError, Log, Meeting, RdmDoor } from "../ports.ts";
import { monotonicSeconds, type ToldBeat } from "./frame-messages.ts";
import type { Beat, FrameSender, FramesOf, OpensSender } from "./frame-sender.ts";
import { type BeatEars, type FramesProgram, ProcessLink } from "./process-link.ts";

/** A process that sends the frames of one run, and asks fixtures over the lines that it has open. */
export interface FramesProcess {
  readonly frames: OpensSender;
  /** For the fixtures on a line that carries their answers too: open whenever the run has it open. */
  questions(universe: number, name: string): RdmDoor;
}

/** Starts it at once, so that it is there when the first line is to be opened. */
export const framesProcess = (program: FramesProgram, note: Log["note"]): FramesProcess => {
  const link = new ProcessLink(program, note);
  return {
    frames: (run) => new SenderThere(link, run),
    questions: (universe, name) => ({
      name,
      open: async () => {},
      exchange: async (send) => {
        const heard = await link.ask({ kind: "exchange", universe, send });
        if (!heard) throw new Error("Bug: a question to a fixture came back without a word");
        return heard;
      },
      searched: { kind: "by-us" },
      close: async () => {},
    }),
  };
};

/** What plays as far as this process knows: what it asked for last, and what it was told of it. */
interface OutThere {
  readonly play: number;
  /** Of the longest part. */
  readonly frames: Frame;
  frame: Frame;
  /** On the run's clock; undefined until a frame of it has gone out. */
  since: Seconds | undefined;
}

/** The run's end of the link. */
class SenderThere implements FrameSender {
  private readonly link: ProcessLink;
  private readonly run: FramesOf;
  private plays = 0;
  private standstills = 0;
  private out: OutThere | undefined;

  constructor(link: ProcessLink, run: FramesOf) {
    this.link = link;
    this.run = run;
  }

  begin(): () => void {
    const { spots, left, ears } = this.run;
    let empty: NodeJS.Timeout | undefined;
    const hears: BeatEars = {
      beat: (beat) => this.hear(beat),
      mistaken: (error) => ears.mistaken(error),
      died: (error) => {
        ears.mistaken(error);
        // Nothing goes out any more, but the run has to come to its end.
        empty = setInterval(() => ears.beat(1, undefined, () => this.nothingOut()), FRAME_SECONDS * 1000);
      },
    };
    this.link.begin(hears, { kind: "begin", spots, left });
    return () => {
      clearInterval(empty);
      this.link.turnAway();
    };
  }

  play(key: string, parts: readonly PlayedPart[], from: Frame): void {
    this.plays += 1;
    const frames = Math.max(...parts.map(({ step }) => step.frames));
    this.out = { play: this.plays, frames, frame: from, since: undefined };
    this.link.say({ kind: "play", play: this.plays, standstills: this.standstills, key, parts, from });
  }

  goDark(): void {
    this.out = undefined;
    this.link.say({ kind: "go-dark" });
  }

  /** The frames go on while what is told of them waits here to be heard, so it is calculated by their beat. */
  standing(at: Seconds): WhatIsOut {
    const { out } = this;
    if (!out) return { frame: 0, after: 0 };
    const passed = Math.min(Math.max(0, at - (out.since ?? at)), secondsOf(out.frames - out.frame) + FRAME_SECONDS);
    const frame = Math.min(out.frames, out.frame + Math.floor(passed * FRAMES_PER_SECOND));
    return { frame, after: secondsOf(out.frame) + passed, unsent: out.since === undefined };
  }

  async open(universe: number, lost: (error: LineError) => void, meeting?: Meeting): Promise<void> {
    const asked = { kind: "open", universe, meeting: meeting && { known: meeting.known } } as const;
    await this.link.ask(asked, { lost, meeting });
  }

  close(): Promise<void> {
    return this.link.close();
  }

  private hear(told: ToldBeat): void {
    const ago = monotonicSeconds() - told.at;
    const { stoodStill } = told;
    if (stoodStill !== undefined) this.standstills += 1;
    this.run.ears.beat(told.gap, stoodStill === undefined ? undefined : stoodStill + ago, () => this.sent(told, ago));
  }

  /** What a beat has sent, as seen from here: what was asked for since is not out yet. */
  private sent(told: ToldBeat, ago: Seconds): Beat {
    const at = this.run.clock.now() - ago;
    if (this.out?.play === told.play) {
      this.out.frame = told.frame;
      this.out.since = at;
      if (told.played) {
        this.out = undefined;
        this.run.ears.played(told.played.key, told.played.rig);
      }
    }
    const { key, frame, isBefore, isStill } = told;
    return { at, key, frame, isBefore, isStill: isStill && told.play === this.plays && ago < 2 * FRAME_SECONDS };
  }

  private nothingOut(): Beat {
    return { at: this.run.clock.now(), key: "", frame: 0, isBefore: false, isStill: false };
  }
}
