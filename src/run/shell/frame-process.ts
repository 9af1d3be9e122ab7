import { type ChildProcess, fork } from "node:child_process";
import { FRAME_SECONDS, FRAMES_PER_SECOND, type Frame, type Seconds, secondsOf } from "../../domain/units.ts";
import type { Heard, ToSend } from "../../wire/rdm/dialogue.ts";
import type { LeftSpot, PlayedPart, Spot } from "../batch/effect.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import { LineError, type LineTrouble, type Log, type Meeting, type RdmDoor, StrangerError } from "../ports.ts";
import type { RigConduct } from "../session/input.ts";
import type { Beat, FrameSender, FramesOf, OpensSender } from "./frame-sender.ts";

/** What a run says to the process that sends its frames. */
export type ToFrames =
  | { readonly kind: "begin"; readonly spots: readonly Spot[]; readonly left: readonly LeftSpot[] }
  /** Void where that process stood still once more than `standstills` says: whoever asked did not know it yet. */
  | {
      readonly kind: "play";
      readonly play: number;
      readonly standstills: number;
      readonly key: string;
      readonly parts: readonly PlayedPart[];
      readonly from: Frame;
    }
  | { readonly kind: "go-dark" }
  /** Of the beat with this number: as long as these come, somebody could stop what plays. */
  | { readonly kind: "heard"; readonly beat: number }
  | FramesRequest;

/** What is answered by its number. */
export type FramesRequest = { readonly request: number } & Asked;

type Asked =
  | {
      readonly kind: "open";
      readonly universe: number;
      readonly meeting: { readonly known: InterfaceIdentity | undefined } | undefined;
    }
  | { readonly kind: "exchange"; readonly universe: number; readonly send: ToSend }
  | { readonly kind: "close" };

/** What that process tells. */
export type FromFrames =
  | ToldBeat
  | { readonly kind: "met"; readonly request: number; readonly identity: InterfaceIdentity }
  | { readonly kind: "done"; readonly request: number; readonly heard: Heard | undefined }
  | { readonly kind: "failed"; readonly request: number; readonly error: SentError }
  | { readonly kind: "lost"; readonly request: number; readonly error: SentError }
  | { readonly kind: "mistake"; readonly message: string; readonly stack: string | undefined };

/** A beat whose frame has gone out; its time is `monotonicSeconds`. */
export interface ToldBeat extends Beat {
  readonly kind: "beat";
  readonly beat: number;
  readonly gap: Frame;
  readonly stoodStill: Seconds | undefined;
  /** The number of what was last asked to be played. */
  readonly play: number;
  readonly played: { readonly key: string; readonly rig: RigConduct } | undefined;
}

/** An error as it travels between processes, where classes are lost. */
export type SentError =
  | { readonly kind: "line"; readonly code: LineTrouble; readonly message: string }
  | { readonly kind: "stranger"; readonly identity: InterfaceIdentity; readonly message: string }
  | { readonly kind: "bug"; readonly message: string };

/** The time on a clock that never goes back and is one clock for all programs of a computer. */
export const monotonicSeconds = (): Seconds => Number(process.hrtime.bigint()) / 1e9;

/** A process that sends the frames of one run, and asks fixtures over the lines that it has open. */
export interface FramesProcess {
  readonly frames: OpensSender;
  /** For the fixtures on a line that carries their answers too: open whenever the run has it open. */
  questions(universe: number, name: string): RdmDoor;
}

/** What is begun: `lines` is plain data, of which its code makes the lines. */
export interface FramesProgram {
  readonly code: URL;
  readonly lines: unknown;
  /** A session of its own keeps the terminal's keys and end from it, which are the run's to answer. */
  readonly session: "of its own" | "the run's";
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

/** It says something forty times a second. Looked at often rather than timed once, since a computer that slept finds every time over. */
const LOOK_EVERY_MS = 1000;
const LOOKS = 10;
/** It has nothing left to do when it is to end. */
const END_MS = 2000;

interface Waiting {
  readonly done: (heard: Heard | undefined) => void;
  readonly failed: (error: Error) => void;
}

interface Opening {
  readonly lost: (error: LineError) => void;
  readonly meeting: Meeting | undefined;
}

/** What hears the beats of the process. */
interface BeatEars {
  beat(beat: ToldBeat): void;
  mistaken(error: unknown): void;
  /** No beat will come any more. */
  died(error: Error): void;
}

/** Requests and their answers, and whether the process is there at all. */
class ProcessLink {
  private readonly child: ChildProcess;
  private readonly note: Log["note"];
  private readonly waiting = new Map<number, Waiting>();
  private readonly openings = new Map<number, Opening>();
  private ears: BeatEars | undefined;
  private requests = 0;
  private looks = 0;
  private watch: NodeJS.Timeout | undefined;
  private dead: Error | undefined;
  private hasBeaten = false;

  constructor({ code, lines, session }: FramesProgram, note: Log["note"]) {
    this.note = note;
    this.child = fork(code, [JSON.stringify(lines)], {
      serialization: "advanced",
      detached: session === "of its own",
      stdio: ["ignore", "ignore", "ignore", "ipc"],
    });
    this.child.on("message", (message: FromFrames) => this.hear(message));
    this.child.on("error", (error) => this.died(error));
    this.child.on("exit", (code, signal) =>
      this.died(new Error(`the process that sends frames ended (${signal ?? code})`)),
    );
    // Until the run begins nobody waits for it.
    this.child.unref();
    this.child.channel?.unref();
  }

  begin(ears: BeatEars, message: ToFrames): void {
    this.ears = ears;
    if (this.dead) {
      ears.died(this.dead);
      return;
    }
    this.child.ref();
    this.child.channel?.ref();
    this.say(message);
    this.watch = setInterval(() => {
      if (this.hasBeaten) this.looks += 1;
      if (this.looks > LOOKS) this.died(new Error("Bug: the process that sends frames stands still"));
    }, LOOK_EVERY_MS);
  }

  /** Nobody hears it any more once the process is gone, which is told otherwise. */
  say(message: ToFrames): void {
    if (this.child.connected) this.child.send(message, () => {});
  }

  /** Rejects as the door does that is asked for, or because nothing can answer any more. */
  ask(asked: Asked, opening?: Opening): Promise<Heard | undefined> {
    return new Promise((done, failed) => {
      if (this.dead) return failed(this.dead);
      this.requests += 1;
      this.waiting.set(this.requests, { done, failed });
      if (opening) this.openings.set(this.requests, opening);
      return this.say({ ...asked, request: this.requests });
    });
  }

  /** From here on no beat is told. */
  turnAway(): void {
    this.ears = undefined;
  }

  async close(): Promise<void> {
    await this.ask({ kind: "close" }).catch(() => {});
    clearInterval(this.watch);
    if (this.dead) return;
    const ended = new Promise<void>((resolve) => this.child.once("exit", () => resolve()));
    this.dead = new Error("Bug: the process that sends frames is closed");
    const enough = setTimeout(() => this.child.kill("SIGKILL"), END_MS);
    if (this.child.connected) this.child.disconnect();
    await ended;
    clearTimeout(enough);
  }

  private hear(message: FromFrames): void {
    this.looks = 0;
    if (message.kind === "beat") this.beat(message);
    else if (message.kind === "mistake")
      this.ears?.mistaken(Object.assign(new Error(message.message), { stack: message.stack }));
    else if (message.kind === "met") this.openings.get(message.request)?.meeting?.met(message.identity);
    else if (message.kind === "lost") this.lost(message.request, errorOf(message.error));
    else this.answered(message);
  }

  private beat(told: ToldBeat): void {
    this.hasBeaten = true;
    this.say({ kind: "heard", beat: told.beat });
    this.ears?.beat(told);
  }

  private lost(request: number, error: Error): void {
    if (error instanceof LineError) this.openings.get(request)?.lost(error);
    else this.ears?.mistaken(error);
  }

  private answered(message: Extract<FromFrames, { kind: "done" | "failed" }>): void {
    const waiting = this.waiting.get(message.request);
    this.waiting.delete(message.request);
    if (message.kind === "done") waiting?.done(message.heard);
    else waiting?.failed(errorOf(message.error));
  }

  private died(error: Error): void {
    if (this.dead) return;
    this.dead = error;
    this.note("process of the frames died", { cause: String(error) });
    for (const { failed } of this.waiting.values()) failed(error);
    this.waiting.clear();
    this.ears?.died(error);
    this.child.kill("SIGKILL");
  }
}

const errorOf = (error: SentError): Error => {
  if (error.kind === "line") return new LineError(error.code, error.message);
  return error.kind === "stranger" ? new StrangerError(error.identity, error.message) : new Error(error.message);
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
  standing(at: Seconds): { readonly frame: Frame; readonly after: Seconds } {
    const { out } = this;
    if (!out) return { frame: 0, after: 0 };
    const passed = Math.min(Math.max(0, at - (out.since ?? at)), secondsOf(out.frames - out.frame) + FRAME_SECONDS);
    const frame = Math.min(out.frames, out.frame + Math.floor(passed * FRAMES_PER_SECOND));
    return { frame, after: secondsOf(out.frame) + passed };
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
