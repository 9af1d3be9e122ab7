import type { HoldPointId } from "../../domain/trade/hold-points.ts";
import type { Stage } from "../session/session.ts";
import type { RackStage } from "./batch.ts";
import type { RackInput } from "./input.ts";

/**
 * Pages that start movement, give power or open what a hold point guards. Each wants a letter of its own, shown on the
 * page, and a fresh key (`session/fresh.ts`); the press button and ENTER never answer them.
 */
export type GuardedId =
  | HoldPointId
  /** The safety page before anything moves, and the moment the mains goes on. */
  | "before-moving"
  | "mains-on"
  /** After a halt or a break. */
  | "go-on"
  | "line-back"
  /** Another interface answers where the one before did. */
  | "other-interface"
  /** A setting was put right at the panel: it is identified again. */
  | "set-right"
  | "play-again"
  /** Pages of a rack: the fixtures that differed, one at a time; one that has an address of its own now. */
  | "one-by-one"
  | "own-address";

/** What the open page guards, of one fixture or of a rack; undefined where an ordinary answer will do. */
export const guardedBy = (stage: Stage | RackStage): GuardedId | undefined => {
  switch (stage.kind) {
    case "holding":
      return stage.point;
    case "paused":
      return "go-on";
    case "line-lost":
      return stage.back ? "line-back" : undefined;
    case "setting-found":
      return "set-right";
    case "by-hand":
      if (stage.task.kind === "hold-point") return stage.task.point;
      return stage.task.kind === "once-more" ? "play-again" : undefined;
    case "other-interface":
      return "other-interface";
    case "between":
      return "one-by-one";
    case "own-address":
      return "own-address";
    default:
      return undefined;
  }
};

/** Inputs that settle a question: they count only from a fresh key. Stopping, leaving, pressing, typing and signs of life always count. */
const ANSWERS: readonly string[] = [
  "confirm",
  "decline",
  "judge",
  "symptom",
  "moved",
  "choose",
  "name-fault",
  "undo",
  "again",
  "go-on",
  "slower",
  "return",
  "back",
  "withdraw",
  "swap",
  "told-apart",
  "confirm-but",
  "all-but",
] satisfies readonly RackInput["kind"][];

/** Whether an input is an answer to a question. */
export const isAnswer = ({ kind }: { readonly kind: string }): boolean => ANSWERS.includes(kind);
