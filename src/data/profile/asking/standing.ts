import { functionWords } from "../../../domain/trade/functions.ts";
import type { FunctionFile } from "../schema.ts";
import type { Draft } from "./draft.ts";

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
