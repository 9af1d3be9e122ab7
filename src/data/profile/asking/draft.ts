import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { FunctionFile, ProfileFile } from "../schema.ts";

/** A profile as far as it has been told. */
export interface Draft {
  readonly frame: Partial<Omit<ProfileFile, "functions" | "rest" | "held" | "allow">>;
  /** In the order of the chart. */
  readonly functions: readonly (readonly [FunctionId, FunctionFile])[];
  /** Functions whose times nobody knew. */
  readonly guessed: readonly FunctionId[];
  /** Slots that are no function of Limber's: what the chart calls them, and the level that they want meanwhile. */
  readonly others: readonly { readonly slot: number; readonly what: string; readonly level: number }[];
}

export const EMPTY: Draft = { frame: {}, functions: [], guessed: [], others: [] };

/** What was told of a function so far; undefined where nothing was. */
export const specIn = ({ functions }: Draft, id: FunctionId): FunctionFile | undefined =>
  functions.find(([known]) => known === id)?.[1];

/** The draft with this function in it, at the end; what it said of the function before is dropped. */
export const withFunction = (draft: Draft, id: FunctionId, spec: FunctionFile): Draft => ({
  ...draft,
  functions: [...draft.functions.filter(([known]) => known !== id), [id, spec]],
});

/** The draft with `slot` (1 to 512) as one more fine slot of a function that is already there. */
export const withFine = (draft: Draft, id: FunctionId, slot: number): Draft => ({
  ...draft,
  functions: draft.functions.map((one) => (one[0] === id ? [id, { ...one[1], slots: [...one[1].slots, slot] }] : one)),
});
