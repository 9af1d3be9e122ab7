import type { Case } from "../diagnosis/model/case.ts";
import type { FunctionId } from "../domain/trade/functions.ts";
import type { Frame, Seconds } from "../domain/units.ts";
import type { Heard, ToSend } from "../wire/rdm/dialogue.ts";
import type { Uid } from "../wire/rdm/packet.ts";
import type { Batch } from "./batch/batch.ts";
import type { ChainHead } from "./events/chain.ts";
import type { RunEvent } from "./events/event.ts";
import type { InterfaceIdentity } from "./events/interface-met.ts";
import type { RunSummary, Which } from "./events/summary.ts";
import type { Diagnosis, Findings } from "./machine/diagnose.ts";
import type { OnItsWay, RackInput } from "./machine/input.ts";
import type { ReleaseStatuses } from "./release/release-status.ts";

/** One beat of the frame clock. Frames that could not be sent in time are skipped, so numbers may jump, never repeat. */
export interface Tick {
  /** Counted from the clock's start: frame n was due n x 25 ms after it. */
  readonly frame: Frame;
  /** How long after its deadline the tick was called. */
  readonly late: Seconds;
}

/** Time. The only place where it comes from. */
export interface Clock {
  /** Monotonic: does not follow the computer's clock being set. */
  now(): Seconds;
  /** ISO 8601 in UTC, for the record only. */
  date(): string;
  /** Calls `onTick` at 40 Hz until the returned function is called. */
  start(onTick: (tick: Tick) => void): () => void;
}

/** Why a DMX line cannot carry frames. */
const LINE_TROUBLES = [
  "unplugged",
  "stalled",
  "busy",
  "not-a-port",
  "no-permission",
  "unreachable",
  "refused",
] as const;
export type LineTrouble = (typeof LINE_TROUBLES)[number];

/** The world is wrong: a DMX line that cannot be opened or was lost. Caught in `run`, where it becomes an input. */
export class LineError extends Error {
  override readonly name = "LineError";
  readonly code: LineTrouble;
  constructor(code: LineTrouble, message: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
  }
}

/** Another interface than the one before answers under its name. It was sent no frame, and was given back. */
export class StrangerError extends Error {
  override readonly name = "StrangerError";
  readonly identity: InterfaceIdentity;
  constructor(identity: InterfaceIdentity, message: string) {
    super(message);
    this.identity = identity;
  }
}

/** Who is expected at the other end of a line, and who is told who was met there. */
export interface Meeting {
  /** The interface that was used before; undefined where none is known. */
  readonly known: InterfaceIdentity | undefined;
  /** Called before `open` resolves, where anything could be told. */
  met(identity: InterfaceIdentity): void;
}

/** An output and what is plugged into it: carries one universe. */
export interface DmxLine {
  /** What the technician called it: "serial:/dev/ttyUSB0", "sim". */
  readonly name: string;
  /**
   * Opens, or opens anew after a loss (with a new port underneath). Rejects with LineError, or
   * with StrangerError where another interface answers than `meeting` knows; without it nobody asks who is there.
   * `lost` is called at most once per opening.
   */
  open(lost: (error: LineError) => void, meeting?: Meeting): Promise<void>;
  /** Hands over 512 levels, slot 1 first. "dropped" when the last frame has not left yet: frames are never queued. */
  send(levels: Uint8Array): "sent" | "dropped";
  close(): Promise<void>;
}

/** Questions to the fixtures on a DMX line, over the cable that carries their levels. */
export interface RdmDoor {
  readonly name: string;
  /** Rejects with LineError. */
  open(): Promise<void>;
  /** Sends one packet and gives what came back as it came. One at a time. Rejects with LineError when the line is gone. */
  exchange(send: ToSend): Promise<Heard>;
  /** How it is known who is there: by a search of ours, or by asking a gateway that searches by itself. */
  readonly searched:
    | { readonly kind: "by-us" }
    | {
        readonly kind: "by-gateway";
        readonly table: () => Promise<readonly Uid[]>;
        /** What a person is told, since this computer listens while it is open. */
        readonly listens: string;
      };
  close(): Promise<void>;
}

/** Why the journal cannot be read or written. */
const JOURNAL_TROUBLES = [
  "locked",
  "full",
  "read-only",
  "newer-version",
  "damaged",
  "no-permission",
  "not-a-journal",
  "exists",
  "worker-died",
] as const;
export type JournalTrouble = (typeof JOURNAL_TROUBLES)[number];

/** The world is wrong: the journal cannot be read or written. The message says what happened and what to do. */
export class JournalError extends Error {
  override readonly name = "JournalError";
  readonly code: JournalTrouble;
  constructor(code: JournalTrouble, message: string, options?: ErrorOptions) {
    super(message, options);
    this.code = code;
  }
}

/** Append-only memory. */
export interface Journal {
  /** Resolves when the event is on disk, not before. */
  append(event: RunEvent): Promise<void>;
  /** In the one order of events, which in one journal is the order of writing; of one run, or all. */
  events(run?: string): Promise<readonly RunEvent[]>;
  /** Everything written of the fixture with this serial number, over all its runs and benches, in the same order. */
  past(serial: string): Promise<readonly RunEvent[]>;
  /** Runs in brief, in the order in which they were begun. */
  briefs(which: Which): Promise<readonly RunSummary[]>;
  /** Names of the open runs that were begun at another bench of a share. */
  openElsewhere(): Promise<ReadonlySet<string>>;
  /** What this shop's finds teach, in the same order. */
  cases(): Promise<readonly Case[]>;
  /** The last event that this journal wrote itself; undefined before the first, and where nothing is kept. */
  head(): Promise<ChainHead | undefined>;
  /** Where fixtures stand that have a serial number: all of them, or one. */
  standings(which: Extract<Which, { readonly kind: "all" | "fixture" }>): Promise<ReleaseStatuses>;
  close(): Promise<void>;
}

/** Works out what may be wrong, where it holds up no frame. */
export interface DiagnosisDoor {
  /** One question at a time. */
  ask(findings: Findings): Promise<Diagnosis>;
  close(): Promise<void>;
}

/** Whoever watches: a person at the terminal or the simulated watcher. Sees the run, of one fixture or of many, and answers with inputs. */
export interface Watcher {
  show(batch: Batch): void;
  /** Called once; every key becomes an input that names what it answers. `way`: it was pressed a while ago. */
  listen(answer: (input: RackInput, way?: OnItsWay) => void): void;
  close(): void;
}

/**
 * What an observer sees and hears of a simulated fixture just now, for a screen that stands in for the real thing.
 * It shows, and never says why.
 */
export interface Spectacle {
  /** Every part that moves: how far along its travel (0 to 1; turns for what turns), and a word where it needs one ("red", "shut", "trembles"). */
  readonly parts: readonly { readonly function: FunctionId; readonly share: number; readonly words: string }[];
  /** "scrape", "knock" ...: loudest first. */
  readonly sounds: readonly string[];
  /** The light on the wall in a few words. */
  readonly light: string;
  /** The words on the fixture's own display. */
  readonly display: string;
}

/** Data files by name. */
export type LibraryKind = "profiles" | "sequences" | "benches" | "racks" | "shops";
export interface DataLibrary {
  names(kind: LibraryKind): readonly string[];
  /** Text and file name of a data file, or undefined when there is none of that name. A name with a path or an extension is a file. */
  read(kind: LibraryKind, name: string): { readonly file: string; readonly text: string } | undefined;
}

/** Says things aloud. Where the system cannot speak it says so once in `trouble` and is silent after. */
export interface Voice {
  say(text: string): void;
  bell(): void;
}

/** Diagnostics for us, into a file, never on the screen. */
export interface Log {
  note(what: string, details?: Readonly<Record<string, unknown>>): void;
}
