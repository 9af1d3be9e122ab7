import type { GuardedId } from "../session/guarded.ts";
import type { RackStage } from "./batch.ts";

/** What the open page of a rack guards; of one fixture alone its own session says it. */
export const rackGuardedBy = (stage: RackStage): GuardedId | undefined => {
  switch (stage.kind) {
    case "holding":
      return stage.point;
    case "paused":
      return "go-on";
    case "line-lost":
      return stage.back ? "line-back" : undefined;
    case "between":
      return "one-by-one";
    case "own-address":
      return "own-address";
    default:
      return undefined;
  }
};
