import type { FaultId } from "../../diagnosis/model/knowledge/faults.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Frame, Seconds } from "../../domain/units.ts";
import type { BodyOf, ReportedSymptom } from "../events/event.ts";
import type { FixtureSaid } from "../events/fixture-said.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import type { Diagnosis } from "./diagnose.ts";

/**
 * All that can happen to a run, of one fixture or of many: `machine/step.ts` says who hears of what. Keys never read state:
 * they name the question they answer (`answers`), and a late answer to a question that is over does nothing.
 */
export type Input = RackInput | WorldInput;

/** What a person says to one fixture, or to all of them. */
export type PersonInput =
  /** "There": something is wrong just now. Also any sign of life. */
  | { readonly kind: "press"; readonly answers: string }
  /** Once more from the start of this step. */
  | { readonly kind: "again"; readonly answers: string }
  | { readonly kind: "stop" }
  /** Yes to a hold point, to "the line is back", to "I watched these". */
  | { readonly kind: "confirm"; readonly answers: string }
  /** "I watched these, all but": those at these places of the list were not as they should be, and are asked about. */
  | { readonly kind: "all-but"; readonly answers: string; readonly wrong: readonly number[] }
  /** No to "I watched these". */
  | { readonly kind: "decline"; readonly answers: string }
  | { readonly kind: "judge"; readonly answers: string; readonly result: "pass" | "fail" | "unsure" | "not-asked" }
  /** Names a symptom, or takes it back when it was named already. */
  | { readonly kind: "symptom"; readonly answers: string; readonly symptom: ReportedSymptom }
  | { readonly kind: "note"; readonly answers: string; readonly text: string }
  /** What moved when one function was stirred. */
  | { readonly kind: "moved"; readonly answers: string; readonly what: FunctionId | "nothing" }
  /** Runs one of the offered tests, counted from 0. */
  | { readonly kind: "choose"; readonly answers: string; readonly offer: number }
  /** What was wrong, as it turned out by hand. */
  | { readonly kind: "name-fault"; readonly answers: string; readonly fault: FaultId | "something-else" | "nothing" }
  /** Words or a number for what is done by hand. */
  | {
      readonly kind: "filled";
      readonly answers: string;
      readonly what: "photo" | "value" | "part" | "minutes" | "initials";
      readonly text: string;
    }
  /** A photo was taken of what is open, and kept under this name. */
  | { readonly kind: "photo"; readonly answers: string; readonly file: string }
  | { readonly kind: "undo"; readonly answers: string }
  | { readonly kind: "freeze"; readonly answers: string }
  | { readonly kind: "away"; readonly answers: string }
  | { readonly kind: "go-on"; readonly answers: string }
  | { readonly kind: "slower"; readonly answers: string }
  | { readonly kind: "faster"; readonly answers: string }
  /** Back to where it happened. */
  | { readonly kind: "return"; readonly answers: string }
  /** While it works to and fro there: a little nearer to one end of the travel. */
  | { readonly kind: "nudge"; readonly answers: string; readonly towards: "low" | "high" }
  | { readonly kind: "back"; readonly answers: string }
  /** A sign of life that says nothing about the fixture. */
  | { readonly kind: "here" }
  | { readonly kind: "person"; readonly initials: string };

/** SIGINT, SIGTERM, SIGHUP; or the terminal went away, or its interrupt key was pressed. */
type SignalInput = { readonly kind: "signal"; readonly name: string };

/** What whoever watches tells the run of one fixture. */
export type WatcherInput = PersonInput | SignalInput;

/** What whoever watches tells a rack: all that can be said to one fixture, and what concerns several. */
export type RackInput =
  | WatcherInput
  /** This fixture does it otherwise than the others; after "one of them": it was this one. */
  | { readonly kind: "differs"; readonly answers: string; readonly member: number }
  /** The last "differs" was the wrong fixture. */
  | { readonly kind: "undo-differs"; readonly answers: string }
  /** "I watched these", all but some: those do not count as watched. */
  | { readonly kind: "confirm-but"; readonly answers: string; readonly members: readonly number[] }
  | { readonly kind: "withdraw"; readonly answers: string; readonly member: number; readonly why: string }
  /** Another fixture of the same kind and mode now stands in its place, at its address. */
  | { readonly kind: "swap"; readonly answers: string; readonly member: number; readonly serial: string }
  /** It has an address of its own now, or is the only one left on the shared one. */
  | { readonly kind: "told-apart"; readonly answers: string; readonly how: "own-address" | "others-unplugged" };

/** What the world tells a run: each line by its universe, each record and each fixture by its run. */
export type WorldInput =
  | { readonly kind: "begin" }
  /** The last frame of a playing is out; how the computer itself behaved meanwhile. */
  | { readonly kind: "played"; readonly answers: string; readonly rig: RigConduct }
  | { readonly kind: "diagnosed"; readonly answers: string; readonly diagnosis: Diagnosis }
  | { readonly kind: "line-lost"; readonly universe: number; readonly words: string }
  | { readonly kind: "line-open"; readonly universe: number }
  /** Comes before "line-open", where anything could be told of the interface. */
  | { readonly kind: "interface-met"; readonly universe: number; readonly identity: InterfaceIdentity }
  /** Another interface than the one before is plugged in there: nothing was sent to it. */
  | {
      readonly kind: "stranger";
      readonly universe: number;
      readonly identity: InterfaceIdentity;
      readonly words: string;
    }
  /** Nothing could be sent for this time: the computer slept, or the program was held. */
  | { readonly kind: "stood-still"; readonly time: Seconds }
  /** How many events of `run` are on disk. */
  | { readonly kind: "stored"; readonly run: string; readonly count: number }
  | { readonly kind: "journal-failed"; readonly words: string }
  | FixtureTold
  /** What is to be known of line or computer: nothing answers questions, a port is open for answers, frames come late. */
  | { readonly kind: "remark"; readonly words: string };

/** What came of a question to the fixture of this run itself, over RDM. */
export type FixtureTold =
  | { readonly kind: "fixture-said"; readonly run: string; readonly body: FixtureSaid }
  | { readonly kind: "sensors-followed"; readonly run: string; readonly body: BodyOf<"sensors-followed"> }
  /** Its own test is over, or would not begin: what came of it, in words. */
  | { readonly kind: "own-test-over"; readonly run: string; readonly words: string };

export interface RigConduct {
  readonly worstLate: Seconds;
  readonly dropped: number;
}

/** How long before it was heard it was pressed, give or take: over the air everything takes its time. */
export interface OnItsWay {
  readonly ago: Seconds;
  readonly give: Seconds;
}

/** Every input with its time on the run's own clock, and what was out when it came. */
export type Stamped = Timed<Input>;
/** An answer to a question, or a press while something moves. */
export type PersonAnswer = Timed<Extract<RackInput, { readonly answers: string }>>;
type Timed<What> = What & {
  readonly at: Seconds;
  /** Only for what came over the air: frame and seconds are those of the moment of the press, and `key` is what played then. */
  readonly way?: OnItsWay & { readonly key: string };
} & WhatIsOut;

/** How far what plays has gone out. */
export interface WhatIsOut {
  /** The frame of the step that was out; 0 when nothing plays. */
  readonly frame: Frame;
  /** Seconds since frame 0 of the step. */
  readonly after: Seconds;
  /** What plays was asked for, and not a frame of it is out yet. */
  readonly unsent?: boolean;
}
