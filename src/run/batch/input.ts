import type { Seconds } from "../../domain/units.ts";
import type { BodyOf } from "../events/event.ts";
import type { FixtureSaid } from "../events/fixture-said.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import type { Diagnosis } from "../session/diagnose.ts";
import type { PersonInput, RigConduct } from "../session/input.ts";

/** What a person says to a rack: all that can be said to one fixture, and what concerns several. */
export type RackInput =
  | PersonInput
  /** The terminal went away, or its interrupt key was pressed. */
  | { readonly kind: "signal"; readonly name: string }
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

/** What the world tells a run of one or many fixtures: each line by its universe, each record by its run. */
export type RackWorld =
  | { readonly kind: "begin" }
  | { readonly kind: "played"; readonly answers: string; readonly rig: RigConduct }
  | { readonly kind: "diagnosed"; readonly answers: string; readonly diagnosis: Diagnosis }
  | { readonly kind: "line-lost"; readonly universe: number; readonly words: string }
  | { readonly kind: "line-open"; readonly universe: number }
  | { readonly kind: "interface-met"; readonly universe: number; readonly identity: InterfaceIdentity }
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
  /** The fixture of this run has answered, over RDM. */
  | { readonly kind: "fixture-said"; readonly run: string; readonly body: FixtureSaid }
  | { readonly kind: "sensors-followed"; readonly run: string; readonly body: BodyOf<"sensors-followed"> }
  | { readonly kind: "own-test-over"; readonly run: string; readonly words: string }
  | { readonly kind: "remark"; readonly words: string }
  | { readonly kind: "signal"; readonly name: string };
