import { type ChildProcess, fork } from "node:child_process";
import type { Heard } from "../../wire/rdm/dialogue.ts";
import { LineError, type Log, type Meeting } from "../ports.ts";
import { type AskedOfFrames, errorOf, type FromFrames, type ToFrames, type ToldBeat } from "./frame-messages.ts";

/** What is begun: `lines` is plain data, of which its code makes the lines. */
export interface FramesProgram {
  readonly code: URL;
  readonly lines: unknown;
  /** A session of its own keeps the terminal's keys and end from it, which are the run's to answer. */
  readonly session: "of its own" | "the run's";
}

/** It says something forty times a second. Looked at often rather than timed once, since a computer that slept finds every time over. */
const LOOK_EVERY_MS = 1000;
const LOOKS = 10;
/** It has nothing left to do when it is to end. */
const END_MS = 2000;

interface Waiting {
  readonly done: (heard: Heard | undefined) => void;
  readonly failed: (error: Error) => void;
}

interface LineOpening {
  readonly lost: (error: LineError) => void;
  readonly meeting: Meeting | undefined;
}

/** What hears the beats of the process. */
export interface BeatEars {
  beat(beat: ToldBeat): void;
  mistaken(error: unknown): void;
  /** No beat will come any more. */
  died(error: Error): void;
}

/** Requests and their answers, and whether the process is there at all. */
export class ProcessLink {
  private readonly child: ChildProcess;
  private readonly note: Log["note"];
  private readonly waiting = new Map<number, Waiting>();
  private readonly openings = new Map<number, LineOpening>();
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

  /** From now on `ears` hears every beat; that the process is gone, or has died since, too. `message` begins the run there. */
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
  ask(asked: AskedOfFrames, opening?: LineOpening): Promise<Heard | undefined> {
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

  /** The lines are given back and the process ends, by force after two seconds. Never rejects. */
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
