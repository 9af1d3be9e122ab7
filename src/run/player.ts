import type { Tick } from "../ports.ts";
import type { Profile } from "../profile/profile.ts";
import type { RigConduct } from "../session/input.ts";
import { darkened, sampleRest, sampler } from "../timeline/sample.ts";
import type { CompiledStep } from "../timeline/timeline.ts";
import { FRAME_SECONDS, type Frame, type Seconds, secondsOf } from "../units.ts";

/** What goes out at every tick: a step being played, or what was last out, held. Frames do not pass through the session. */
export class Player {
  private readonly profile: Profile;
  private readonly address: number;
  private readonly send: (levels: Uint8Array) => "sent" | "dropped";
  private readonly played: (key: string, rig: RigConduct) => void;
  private readonly levels = new Uint8Array(512);
  private playing: Playing | undefined;
  private lastTick: Frame | undefined;

  constructor(
    profile: Profile,
    address: number,
    send: (levels: Uint8Array) => "sent" | "dropped",
    played: (key: string, rig: RigConduct) => void,
  ) {
    this.profile = profile;
    this.address = address;
    this.send = send;
    this.played = played;
    this.rest();
  }

  play(key: string, step: CompiledStep, from: Frame): void {
    const rig = { worstLate: 0, dropped: 0 };
    this.playing = { key, step, frame: sampler(this.profile, step), from, first: undefined, n: from, rig };
  }

  freeze(): void {
    this.playing = undefined;
  }

  goDark(): void {
    this.playing = undefined;
    this.put(darkened(this.profile, this.levels.slice(this.address - 1, this.address - 1 + this.profile.slots)));
  }

  rest(): void {
    this.playing = undefined;
    this.put(sampleRest(this.profile));
  }

  /** The frame of the step that is out, and the seconds since its frame 0; zeros when nothing plays. */
  standing(sinceTick: Seconds): { readonly frame: Frame; readonly after: Seconds } {
    const frame = this.playing?.n ?? 0;
    return { frame, after: this.playing ? secondsOf(frame) + Math.min(sinceTick, FRAME_SECONDS) : 0 };
  }

  /** One beat of the clock: samples at the deadline and hands over, never queues. */
  tick({ frame, late }: Tick): void {
    const skipped = this.lastTick === undefined ? 0 : frame - this.lastTick - 1;
    this.lastTick = frame;
    const { playing } = this;
    if (playing) this.advance(playing, frame);
    const outcome = this.send(this.levels);
    if (playing) this.settle(playing, late, skipped + (outcome === "dropped" ? 1 : 0));
  }

  private advance(playing: Playing, frame: Frame): void {
    playing.first ??= frame;
    playing.n = Math.min(playing.step.frames, playing.from + frame - playing.first);
    this.put(playing.frame(playing.n));
  }

  private settle(playing: Playing, late: Seconds, dropped: number): void {
    playing.rig = { worstLate: Math.max(playing.rig.worstLate, late), dropped: playing.rig.dropped + dropped };
    if (playing.n < playing.step.frames || this.playing !== playing) return;
    this.playing = undefined;
    this.played(playing.key, playing.rig);
  }

  private put(slots: Uint8Array): void {
    this.levels.set(slots, this.address - 1);
  }
}

interface Playing {
  readonly key: string;
  readonly step: CompiledStep;
  readonly frame: (n: Frame) => Uint8Array;
  readonly from: Frame;
  /** The clock's frame at which it began. */
  first: Frame | undefined;
  n: Frame;
  rig: RigConduct;
}
