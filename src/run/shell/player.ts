import { FRAME_SECONDS, type Frame, type Seconds, secondsOf } from "../../domain/units.ts";
import { darkened, sampleRest, sampler } from "../../plan/sample.ts";
import type { CompiledStep } from "../../plan/timeline.ts";
import type { Spot } from "../batch/batch.ts";
import type { LeftSpot, PlayedPart } from "../batch/change.ts";
import type { RigConduct, WhatIsOut } from "../machine/input.ts";
import type { Tick } from "../ports.ts";

type FrameFate = "sent" | "dropped";

/** What goes out at every tick: steps being played, or what was last out, held. Frames do not pass through the session. */
export class Player {
  private readonly send: (universe: number, levels: Uint8Array) => FrameFate;
  private readonly played: (key: string, rig: RigConduct) => void;
  private readonly levels: Levels;
  private playing: Playing | undefined;
  private lastTick: Frame | undefined;
  private begun = false;

  constructor(
    spots: readonly Spot[],
    send: (universe: number, levels: Uint8Array) => FrameFate,
    played: (key: string, rig: RigConduct) => void,
    left: readonly LeftSpot[] = [],
  ) {
    this.levels = new Levels(left);
    this.send = send;
    this.played = played;
    this.levels.meet(spots);
  }

  /** Nothing was played in this run yet. */
  get hasNotBegun(): boolean {
    return !this.begun;
  }

  /**
   * Begins to play steps on some fixtures; all others go dark and hold. `key` names what
   * plays, for the inputs that tell of it.
   */
  play(key: string, parts: readonly PlayedPart[], from: Frame): void {
    this.begun = true;
    const spots = parts.flatMap((part) => part.spots);
    this.levels.begin(spots);
    this.levels.darken(spots);
    const rig = { worstLate: 0, dropped: 0 };
    const frames = Math.max(...parts.map(({ step }) => step.frames));
    const steps = parts.map(({ step }) => step);
    const tracks = parts.flatMap(tracksOf);
    this.playing = { key, steps, tracks, frames, from, first: undefined, n: from, sent: from, isOut: false, rig };
  }

  /** Ends whatever plays: dark, and every axis holds where it was last commanded to stand. */
  goDark(): void {
    this.playing = undefined;
    this.levels.darken([]);
  }

  /** The frame of the step that went out last, and the seconds since its frame 0; zeros when nothing plays. */
  standing(sinceTick: Seconds): WhatIsOut {
    const { playing } = this;
    if (!playing) return { frame: 0, after: 0 };
    const after = secondsOf(playing.sent) + Math.min(sinceTick, FRAME_SECONDS);
    return { frame: playing.sent, after, unsent: !playing.isOut };
  }

  /** The key of what plays now; empty when nothing does. */
  get key(): string {
    return this.playing?.key ?? "";
  }

  /** Whether nothing that is played now moves within the next `frames` frames. */
  standsStill(frames: Frame): boolean {
    const { playing } = this;
    if (!playing) return true;
    const [from, to] = [playing.n, playing.n + frames];
    return playing.steps.every(({ moves }) =>
      moves.every((move) => move.start >= to || move.start + move.frames < from),
    );
  }

  /** Makes one beat of the clock: samples at the deadline and hands over, never queues. */
  tick({ frame, late }: Tick): void {
    const skipped = this.lastTick === undefined ? 0 : frame - this.lastTick - 1;
    this.lastTick = frame;
    const { playing } = this;
    if (playing) this.advance(playing, frame);
    const before = playing?.sent ?? 0;
    if (playing) playing.sent = playing.n;
    const dropped = this.hand();
    if (!playing) return;
    const lost = dropped.some((one) => isOn(playing, one));
    if (lost) playing.sent = before;
    else playing.isOut = true;
    this.settle(playing, late + secondsOf(skipped), skipped + (lost ? 1 : 0));
  }

  /** Every universe to its line; which of them were not taken. */
  private hand(): readonly number[] {
    return this.levels.all().flatMap(([universe, levels]) => {
      const undo = this.levels.taken(universe);
      if (this.send(universe, levels) === "sent") return [];
      undo();
      return [universe];
    });
  }

  private advance(playing: Playing, frame: Frame): void {
    playing.first ??= frame;
    playing.n = Math.min(playing.frames, playing.from + frame - playing.first);
    for (const { spots, slots } of playing.tracks) {
      const now = slots(playing.n);
      for (const spot of spots) this.levels.put(spot, now);
    }
  }

  private settle(playing: Playing, late: Seconds, dropped: number): void {
    playing.rig = { worstLate: Math.max(playing.rig.worstLate, late), dropped: playing.rig.dropped + dropped };
    if (playing.n < playing.frames || this.playing !== playing) return;
    this.playing = undefined;
    this.played(playing.key, playing.rig);
  }
}

interface Playing {
  readonly key: string;
  readonly steps: readonly CompiledStep[];
  readonly tracks: readonly PlayedTrack[];
  /** How long the longest part is. */
  readonly frames: Frame;
  readonly from: Frame;
  /** The clock's frame at which it began. */
  first: Frame | undefined;
  n: Frame;
  /** The last frame that every line of it has taken. */
  sent: Frame;
  /** Whether they have taken any. */
  isOut: boolean;
  rig: RigConduct;
}

/** Fixtures that are sent the same slots. */
interface PlayedTrack {
  readonly spots: readonly Spot[];
  readonly slots: (n: Frame) => Uint8Array;
}

/** All fixtures of a part are of one kind and mode. */
const tracksOf = ({ step, spots }: PlayedPart): readonly PlayedTrack[] => {
  const [first] = spots;
  return first ? [{ spots, slots: sampler(first.profile, step) }] : [];
};

/** Frames dropped on a universe that nobody watches just now are nobody's loss. */
const isOn = ({ tracks }: Playing, universe: number): boolean =>
  tracks.some(({ spots }) => spots.some((spot) => spot.universe === universe));

/** What stands on every universe just now, and where the fixtures listen. A universe is silent until something plays on it. */
class Levels {
  private readonly universes = new Map<number, Uint8Array>();
  /** What really went out last: frames that the line did not take were never told to anybody. */
  private readonly sent = new Map<number, Uint8Array>();
  private readonly spots = new Map<string, Spot>();
  private readonly left: ReadonlyMap<string, Uint8Array>;

  /** `left`: where fixtures were last commanded to stand when an earlier part of this run was left. */
  constructor(left: readonly LeftSpot[] = []) {
    this.left = new Map(left.map(({ spot, slots }) => [placeOf(spot), slots]));
  }

  /** The universes and their 512 levels, slot 1 first. */
  all(): readonly (readonly [number, Uint8Array])[] {
    return [...this.universes];
  }

  /**
   * Notes that the line is given what is on this universe now; call what is returned when it did not take
   * it. `universe` is its number, from 1.
   */
  taken(universe: number): () => void {
    const before = this.sent.get(universe);
    this.sent.set(universe, this.of(universe).slice());
    return () => {
      if (before) this.sent.set(universe, before);
    };
  }

  /** Notes fixtures that listen somewhere; nothing is sent to them yet. */
  meet(spots: readonly Spot[]): void {
    for (const spot of spots) {
      const known = this.spots.has(placeOf(spot));
      this.spots.set(placeOf(spot), spot);
      if (!known && this.universes.has(spot.universe)) this.put(spot, this.atFirst(spot));
    }
  }

  /**
   * Makes these fixtures ready to play. On a universe that was silent, everybody who listens there
   * begins where it was left, else at rest.
   */
  begin(spots: readonly Spot[]): void {
    this.meet(spots);
    const silent = new Set(spots.map(({ universe }) => universe).filter((one) => !this.universes.has(one)));
    for (const universe of silent) this.universes.set(universe, new Uint8Array(512));
    for (const spot of this.spots.values()) if (silent.has(spot.universe)) this.put(spot, this.atFirst(spot));
  }

  /** Sets the slots of one fixture, from its start address on. */
  put({ universe, address }: Spot, slots: Uint8Array): void {
    this.of(universe).set(slots, address - 1);
  }

  /**
   * Makes dark, with every axis held where it was last commanded by a frame that went out: all but those
   * that listen where one of `but` does.
   */
  darken(but: readonly Spot[]): void {
    const places = new Set(but.map(placeOf));
    for (const spot of this.spots.values()) {
      const { universe, address, profile } = spot;
      const levels = this.sent.get(universe) ?? this.universes.get(universe);
      if (!levels || places.has(placeOf(spot))) continue;
      this.put(spot, darkened(profile, levels.slice(address - 1, address - 1 + profile.slots)));
    }
  }

  /** What it is told before anything of its own plays. */
  private atFirst(spot: Spot): Uint8Array {
    return this.left.get(placeOf(spot)) ?? sampleRest(spot.profile);
  }

  private of(universe: number): Uint8Array {
    const levels = this.universes.get(universe);
    if (!levels) throw new Error(`Bug: nothing is known of universe ${universe}`);
    return levels;
  }
}

const placeOf = ({ universe, address }: Spot): string => `${universe}.${address}`;
