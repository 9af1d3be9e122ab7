import type { WatcherInput } from "../run/machine/input.ts";
import type { Session } from "../run/session/session.ts";

/** The keyboard's own side of a run: what is being leafed through or typed. Changed by keys alone. */
export interface Desk {
  /** The question that page, function and text belong to. */
  readonly question: string | undefined;
  /** Which list of symptoms; leafed through with 0. */
  readonly page: number;
  /** Which function of the step they are told of. */
  readonly about: number;
  /** Which page of the list of functions lies open instead, to choose one from. */
  readonly choosing: number | undefined;
  readonly entry: TypedEntry | undefined;
  /** Which of the choices of the question the buttons have come to; undefined before the first press. */
  readonly mark: number | undefined;
  /** In a silent group, the places in it of the steps that are marked as wrong. */
  readonly wrong: readonly number[];
  /** Asked for while it moved; waits until the step is over. */
  readonly wanted: "away" | "freeze" | undefined;
}

/** Text on its way: a note, the initials of whoever watches, or a line about what was done by hand. */
export interface TypedEntry {
  readonly what: "note" | "person" | "photo" | "value" | "part" | "minutes" | "initials";
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
  wrong: [],
  wanted: undefined,
});

/** The desk for a question: as it was, or cleared when the question is another. */
export const deskFor = (desk: Desk, question: string | undefined): Desk =>
  desk.question === question ? desk : { ...clearDesk(question), wanted: desk.wanted };

/** What was on the screen when a key was pressed: the key answers that, whatever has happened since. */
export interface Drawn {
  readonly session: Session;
  readonly question: string | undefined;
}

/** What a key leads to: the desk after it, and what the session hears. */
export type Keyed = readonly [Desk, readonly WatcherInput[]];

/** The keyboard's own side of a rack run. Changed by keys alone. */
export interface RackDesk {
  /** How many pages of fixtures were leafed on. */
  readonly leafed: number;
  /** In a break: the fixture that is spoken of, by its place in the rack. */
  readonly picked: number | undefined;
  readonly entry: RackEntry | undefined;
  /** Those of the fixtures asked about that do not count as watched, by their places in the rack. */
  readonly excepted: readonly number[];
  /** Which answer the again button would take, once the press button has gone to one. */
  readonly mark: number | undefined;
}

/** Text on its way: the serial number of the fixture that was put in instead, or the initials of whoever watches. */
export interface RackEntry {
  readonly what: "serial" | "person";
  readonly text: string;
}

export const CLEAR_RACK_DESK: RackDesk = {
  leafed: 0,
  picked: undefined,
  entry: undefined,
  excepted: [],
  mark: undefined,
};
