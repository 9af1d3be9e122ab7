import type { Frame, Seconds } from "../../domain/units.ts";
import type { Heard, ToSend } from "../../wire/rdm/dialogue.ts";
import type { Spot } from "../batch/batch.ts";
import type { LeftSpot, PlayedPart } from "../batch/change.ts";
import type { InterfaceIdentity } from "../events/interface-met.ts";
import type { RigConduct } from "../machine/input.ts";
import { LineError, type LineTrouble, StrangerError } from "../ports.ts";
import type { Beat } from "./frame-sender.ts";

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
export type FramesRequest = { readonly request: number } & AskedOfFrames;

/** What the run asks of the process, without its number. */
export type AskedOfFrames =
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

/** An error of a line as it is sent to the run. */
export const sentError = (error: unknown): SentError => {
  const message = error instanceof Error ? error.message : String(error);
  if (error instanceof StrangerError) return { kind: "stranger", identity: error.identity, message };
  return error instanceof LineError ? { kind: "line", code: error.code, message } : { kind: "bug", message };
};

/** A mistake of ours as it is told to the run. */
export const mistakeOf = (error: unknown): Extract<FromFrames, { kind: "mistake" }> => {
  const [message, stack] = error instanceof Error ? [error.message, error.stack] : [String(error), undefined];
  return { kind: "mistake", message, stack };
};

/** The error that was sent, of its class again. */
export const errorOf = (error: SentError): Error => {
  if (error.kind === "line") return new LineError(error.code, error.message);
  return error.kind === "stranger" ? new StrangerError(error.identity, error.message) : new Error(error.message);
};
