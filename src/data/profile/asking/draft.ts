import { type FunctionId, functionWords } from "../../../domain/trade/functions.ts";
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

export const EMPTY_DRAFT: Draft = { frame: {}, functions: [], guessed: [], others: [] };

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

/** What has been told so far: what it is, and its slots. */
export const standing = (draft: Draft): readonly string[] => {
  const { title, fixture, profile } = draft.frame;
  const head = title ?? fixture ?? profile;
  return [...(head === undefined ? [] : [head]), ...slotRows(draft)];
};

/** A line for each slot or run of slots. */
export const slotRows = ({ functions, others }: Draft): readonly string[] =>
  [
    ...functions.map(([id, spec]) => ({
      slot: spec.slots[0] ?? 0,
      line: row(spec.slots, `${functionWords(id)}, ${rangeOf(spec)}`),
    })),
    ...others.map(({ slot, what, level }) => ({ slot, line: row([slot], `held at ${level}: ${what}`) })),
  ]
    .sort((a, b) => a.slot - b.slot)
    .map(({ line }) => line);

const row = (slots: readonly number[], words: string): string => `${slots.join("+").padStart(9)}  ${words}`;

const rangeOf = (spec: FunctionFile): string => {
  if ("commands" in spec) return spec.commands.map(({ is, at }) => `${is} at ${at}`).join(", ");
  if ("positions" in spec) return spec.positions.map(({ at, is }) => `${at} ${is}`).join(", ");
  if ("bands" in spec) return spec.bands.map(({ from, to, is }) => `${from}-${to} ${is}`).join(", ");
  return "from_deg" in spec
    ? `${spec.from_deg} to ${spec.to_deg} degrees in ${spec.full_travel_s} s`
    : `${spec.from_pct} to ${spec.to_pct} % in ${spec.full_travel_s} s`;
};
