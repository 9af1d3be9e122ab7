import type { Profile } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";

/** Which slots each function listens to, coarse first: as a profile says, or as it may really be. */
export type SlotMap = ReadonlyMap<FunctionId, readonly number[]>;

/** Which function moves on which slots, coarse first, as the profile says. */
export const slotsOf = ({ functions }: Profile): SlotMap =>
  new Map([...functions].map(([id, { slots }]) => [id, slots] as const));

/** One answer to "what moved?": which function was asked to move, and what did. */
export interface SlotMoved {
  readonly asked: FunctionId;
  readonly moved: FunctionId | "nothing";
}

/**
 * How many answers do not fit `real` being how it really is. Only the coarse slot is moved a little; a
 * fine one moves nothing that can be seen.
 */
export const contradictions = (told: SlotMap, real: SlotMap, answers: readonly SlotMoved[]): number =>
  answers.filter(({ asked, moved }) => {
    const coarse = told.get(asked)?.[0];
    const hearing = [...real].filter(([, slots]) => slots[0] === coarse).map(([id]) => id);
    return moved === "nothing" ? hearing.length > 0 : !hearing.includes(moved);
  }).length;
