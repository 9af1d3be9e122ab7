import type { Batch } from "../run/batch/batch.ts";
import type { RackInput } from "../run/machine/input.ts";

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
