import { createHash, type Hash } from "node:crypto";
import { fastClock } from "../../src/io/clock/clocks.ts";
import { silentLog } from "../../src/io/log/file.ts";
import { memoryJournal } from "../../src/io/store/memory.ts";
import { silentVoice } from "../../src/io/voice/speech.ts";
import type { Batch } from "../../src/run/batch/batch.ts";
import type { EventBody, RunEvent } from "../../src/run/events/event.ts";
import { type Clock, type Journal, JournalError, LineError, type Watcher } from "../../src/run/ports.ts";
import { diagnosedHere } from "../../src/run/shell/diagnosis-thread.ts";
import type { Doors } from "../../src/run/shell/effect-handlers.ts";
import { type OpenedLines, sentHere } from "../../src/run/shell/frame-sender.ts";
import { Shell } from "../../src/run/shell/shell.ts";

/** What the world does to a recorded run, each at an exact frame, counted from the first that was sent. */
export interface Levers {
  /** The cable of a universe comes out; it can be opened again at once. */
  readonly cable?: readonly { readonly at: number; readonly universe: number }[];
  /** Nothing could be sent for so many frames. */
  readonly asleep?: { readonly at: number; readonly frames: number };
  readonly signal?: { readonly at: number; readonly name: string };
  /** Writing fails from this event on. */
  readonly diskFullAt?: number;
  /** A frame is not taken. */
  readonly dropped?: readonly number[];
}

/** What a run leaves: one line for each event, with a digest of all frames that went out before it, and one for the end. */
export type Recording = readonly string[];

/** Plays a run in no real time, frame by frame, and keeps everything it sent and wrote. */
export const recorded = async (
  opening: Batch,
  watcher: (shell: { readonly frame: () => number }) => Watcher & { readonly beat?: () => void },
  levers: Levers = {},
  more: Partial<Pick<Doors, "byHand">> & { readonly line?: OpenedLines } = {},
): Promise<Recording> => {
  const tape = new Tape();
  let signal: (name: string) => void = () => {};
  const lines = taped(tape, levers, more.line);
  const shell: Shell = new Shell(opening, {
    clock: sleepy(
      fastClock(() => shell.busy()),
      levers.asleep,
      tape,
    ),
    frames: sentHere(lines),
    journal: journalOn(tape, levers.diskFullAt),
    watcher: {
      show: (state) => person.show(state),
      listen: (hear) => person.listen(hear),
      close: () => person.close(),
    },
    voice: silentVoice,
    log: silentLog,
    diagnosis: diagnosedHere,
    questions: new Map(),
    byHand: more.byHand ?? (() => {}),
    signals: (listen) => {
      signal = listen;
      return () => {};
    },
    mishaps: () => () => {},
    bench: "golden",
  });
  const person = watcher({ frame: () => shell.frame() });
  tape.onFrame = () => {
    person.beat?.();
    if (levers.signal?.at === tape.ticks) signal(levers.signal.name);
  };
  await shell.run();
  return tape.ended();
};

/** Everything that went out and was written, in its order. */
class Tape {
  private readonly lines: string[] = [];
  private hash: Hash = createHash("sha256");
  private sent = 0;
  /** Frames of the first universe that were offered so far. */
  ticks = 0;
  onFrame: () => void = () => {};

  frame(universe: number, levels: Uint8Array): void {
    this.sent += 1;
    this.hash.update(`${universe}:`).update(levels);
  }

  event({ run, person, body }: RunEvent): void {
    this.lines.push(`${this.frames()} | ${run} ${person} ${inWords(body)}`);
  }

  ended(): Recording {
    return [...this.lines, `${this.frames()} | end`];
  }

  /** How many frames went out since the line before, and what they were. */
  private frames(): string {
    const words = this.sent === 0 ? "no frames" : `${this.sent} frames ${this.hash.digest("hex").slice(0, 12)}`;
    this.hash = createHash("sha256");
    this.sent = 0;
    return words.padEnd(26);
  }
}

const taped = (tape: Tape, { cable = [], dropped = [] }: Levers, under?: OpenedLines): OpenedLines => {
  const losses = new Map<number, (error: LineError) => void>();
  let first: number | undefined;
  return {
    open: async (universe, lost) => {
      first ??= universe;
      await under?.open(universe, lost);
      losses.set(universe, lost);
    },
    send: (universe, levels) => {
      if (universe === first) tape.ticks += 1;
      const lost = losses.get(universe);
      if (!lost) return "dropped";
      tape.frame(universe, levels);
      under?.send(universe, levels);
      const cut = cable.find((one) => one.universe === universe && one.at === tape.ticks);
      if (cut) {
        losses.delete(universe);
        lost(new LineError("unplugged", "the cable is out"));
      }
      if (universe === first) tape.onFrame();
      return dropped.includes(tape.ticks) ? "dropped" : "sent";
    },
    close: async () => {
      await under?.close();
    },
  };
};

const journalOn = (tape: Tape, fullAt: number | undefined): Journal => {
  const memory = memoryJournal();
  let written = 0;
  return {
    ...memory,
    append: async (event) => {
      written += 1;
      if (fullAt !== undefined && written >= fullAt) throw new JournalError("full", "the disk is full");
      tape.event(event);
      await memory.append(event);
    },
  };
};

/** A computer that sleeps once, when so many frames have gone out. */
const sleepy = (clock: Clock, asleep: Levers["asleep"], tape: Tape): Clock => ({
  ...clock,
  start: (onTick) => {
    let slept = 0;
    return clock.start((tick) => {
      if (asleep && tape.ticks >= asleep.at) slept = asleep.frames;
      onTick({ ...tick, frame: tick.frame + slept });
    });
  },
});

/**
 * Long texts, and words that only people read, are left out: what a run was made from is told by its movements' fingerprints.
 * In which order an object's keys stand says nothing.
 */
const inWords = (body: EventBody): string => {
  if (body.kind === "run-opened")
    return `run-opened ${body.mode} ${body.steps.map(({ id, fingerprint }) => `${id}:${short(fingerprint)}`).join(" ")}`;
  if (body.kind === "rack-opened") return `rack-opened ${body.members.map(({ serial }) => serial).join(" ")}`;
  if (body.kind === "step-added") return `step-added ${body.step.id}:${short(body.step.fingerprint)}`;
  const { kind, ...rest } = { ...body, ...wordless(body) };
  const keys = Object.keys(rest).sort() as (keyof typeof rest)[];
  return `${kind} ${keys.map((key) => `${key}=${JSON.stringify(rest[key])}`).join(" ")}`;
};

const wordless = (body: EventBody): object => {
  if (body.kind === "step-started" && body.played) return { played: short(body.played.fingerprint) };
  if (body.kind === "course-changed" && ["line-lost", "away"].includes(body.what)) return { detail: "" };
  return body.kind === "quarantined" ? { reasons: body.reasons.length > 0 ? "some" : "none" } : {};
};

const short = (fingerprint: string): string => fingerprint.slice(0, 8) || "-";
