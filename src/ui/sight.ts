import type { Frame, Milliseconds, Seconds } from "../domain/units.ts";
import { type Batch, lookedAtAlone, memberAt, type RackStage } from "../run/batch/batch.ts";
import type { RackInput } from "../run/machine/input.ts";
import type { Session, Stage, StageOf } from "../run/session/session.ts";
import type { KeyPlan } from "./key-plan.ts";
import type { Seen } from "./seen.ts";

/** Everything a page is drawn from, of one fixture or of many, as it is in one moment. */
export interface Sight {
  readonly batch: Batch;
  readonly desk: Desk;
  readonly plan: KeyPlan;
  /** The frame of the step that is being sent. */
  readonly frame: Frame;
  /** What simulated fixtures show, in the order of the rack; undefined for real ones, where nobody can know. */
  readonly shown: readonly (Seen | undefined)[];
  /** Milliseconds of whoever looks, as in `shown`. */
  readonly at: Milliseconds;
  /** Since the last press. */
  readonly sincePress: Seconds;
  /** Since the last key. */
  readonly quiet: Seconds;
  /** The page has stood long enough for a key to answer it. */
  readonly listening: boolean;
  /** Why the last key did not answer; undefined when it did. */
  readonly refused: "too soon" | "still held" | undefined;
  /** Something to be told besides: that the system cannot speak. */
  readonly notice: string | undefined;
  readonly size: Size;
  readonly letters: "usual" | "several rows high";
}

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** The same of a fixture that is looked at alone, and of every run of one: with its own run, and what it shows. */
export interface AloneSight extends Sight {
  readonly session: Session;
  readonly seen: Seen | undefined;
}

/** The sight of the fixture that is looked at alone; undefined while several are watched. */
export const aloneIn = (sight: Sight): AloneSight | undefined => {
  const { batch, shown } = sight;
  const alone = lookedAtAlone(batch);
  return alone && { ...sight, session: alone.session, seen: shown[batch.members.indexOf(alone)] };
};

export type Moving = StageOf<"moving">;
export type AskingStage = StageOf<"asking">;

/** What a run of several does while none of them is looked at alone. */
export type TogetherStage = Exclude<RackStage, { kind: "alone" }>;

/** What is done now, as whoever watches sees it: the stage of the fixture that is looked at alone, else that of all. */
export const stageIn = (batch: Batch): Stage | TogetherStage => {
  const { stage } = batch;
  return stage.kind === "alone" ? memberAt(batch, stage.member).session.stage : stage;
};

/** The keyboard's own side of a run: what is being leafed through, marked or typed. Changed by keys alone. */
export interface Desk {
  /** The question that all else here belongs to. */
  readonly question: string | undefined;
  /** Which page of the list lies open: of symptoms, of functions, of fixtures. */
  readonly page: number;
  /** Which function of the step symptoms are told of. */
  readonly about: number;
  /** Which page of the list of functions lies open instead, to choose one from. */
  readonly choosing: number | undefined;
  readonly entry: TypedEntry | undefined;
  /** Which of the choices of the question the buttons have come to; undefined before the first press. */
  readonly mark: number | undefined;
  /** "All but these": of the silent steps the places of those that were wrong, of a rack those that were not watched. */
  readonly excepted: readonly number[];
  /** In a break of a rack: the fixture that is spoken of, by its place in the rack. */
  readonly picked: number | undefined;
  /** Asked for while it moved; waits until the step is over. */
  readonly wanted: "away" | "freeze" | undefined;
}

/** Text on its way: a note, initials, a line about what was done by hand, or the serial number of a fixture put in instead. */
export interface TypedEntry {
  readonly what: "note" | "person" | "photo" | "value" | "part" | "minutes" | "initials" | "serial";
  readonly text: string;
}

/** A desk on which nothing lies, for this question; undefined where nothing is asked. */
export const clearDesk = (question: string | undefined): Desk => ({
  question,
  page: 0,
  about: 0,
  choosing: undefined,
  entry: undefined,
  mark: undefined,
  excepted: [],
  picked: undefined,
  wanted: undefined,
});

/** The desk for a question: as it was, or cleared when the question is another. */
export const deskFor = (desk: Desk, question: string | undefined): Desk =>
  desk.question === question ? desk : { ...clearDesk(question), wanted: desk.wanted };

/** What was on the screen when a key was pressed: the key answers that, whatever has happened since. */
export interface Drawn {
  readonly batch: Batch;
  readonly question: string | undefined;
}

/** What a key leads to: the desk after it, and what the run hears. */
export type Keyed = readonly [Desk, readonly RackInput[]];

/** A key that says nothing but that somebody is there. */
export const HERE: RackInput = { kind: "here" };
