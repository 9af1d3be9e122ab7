import type { Profile } from "../../data/profile/profile.ts";
import type { TextEdit } from "../../domain/problem/edit.ts";
import { type FunctionId, functionWords, isAxisFunction } from "../../domain/trade/functions.ts";
import type { SlotMap } from "./steps.ts";

/** One thing to put right in a profile. */
export type ProfileChange =
  | { readonly kind: "fine-first"; readonly function: FunctionId }
  | { readonly kind: "exchanged"; readonly one: FunctionId; readonly other: FunctionId }
  /** Everything from a slot on stands some slots further on, or before. */
  | { readonly kind: "shifted"; readonly from: number; readonly by: number }
  /** The two ends of a travel, in and out of a leaf, or the two ways of turning. */
  | { readonly kind: "other-way"; readonly function: FunctionId }
  /** Every name of a wheel stands some positions further on. */
  | { readonly kind: "names-shifted"; readonly function: FunctionId; readonly by: number };

/** The slots after a change of the profile; a change that is not about slots leaves them as they are. */
export const slotsAfter = (slots: SlotMap, change: ProfileChange): SlotMap => {
  switch (change.kind) {
    case "fine-first":
      return new Map([...slots].map(([id, own]) => [id, id === change.function ? own.toReversed() : own]));
    case "exchanged":
      return new Map(
        [...slots].map(([id, own]) => [
          id,
          (id === change.one ? slots.get(change.other) : id === change.other ? slots.get(change.one) : own) ?? own,
        ]),
      );
    case "shifted":
      return new Map(
        [...slots].map(([id, own]) => [id, own.map((slot) => (slot >= change.from ? slot + change.by : slot))]),
      );
    default:
      return slots;
  }
};

/** What is wrong in the profile, in words, and where it may be a setting of the fixture instead. */
export const changeInWords = (change: ProfileChange): string => {
  switch (change.kind) {
    case "fine-first":
      return `${functionWords(change.function)}: coarse and fine slot are exchanged`;
    case "exchanged":
      return `${functionWords(change.one)} and ${functionWords(change.other)} have each other's slots${isAxisFunction(change.one) && isAxisFunction(change.other) ? ", or are exchanged in the fixture's menu: look there first" : ""}`;
    case "shifted":
      return `from slot ${change.from} on everything stands ${Math.abs(change.by)} ${Math.abs(change.by) === 1 ? "slot" : "slots"} ${change.by > 0 ? "further on" : "before"}: a line of the chart too ${change.by > 0 ? "few" : "many"}`;
    case "other-way":
      return `${functionWords(change.function)} goes the other way round${isAxisFunction(change.function) ? ", or is inverted in the fixture's menu: look there first" : ""}`;
    case "names-shifted":
      return `${functionWords(change.function)}: the names stand ${Math.abs(change.by)} ${Math.abs(change.by) === 1 ? "position" : "positions"} beside their places`;
    default:
      return change satisfies never;
  }
};

/** What to write where in the profile's file so that it says what the change says. */
export const editsFor = (profile: Profile, change: ProfileChange): readonly TextEdit[] => {
  if (change.kind === "other-way") return turnedRound(profile, change.function);
  if (change.kind === "names-shifted") return renamed(profile, change);
  const before: SlotMap = new Map([...profile.functions].map(([id, { slots }]) => [id, slots]));
  const slots = [...slotsAfter(before, change)]
    .filter(([id, own]) => own.join() !== before.get(id)?.join())
    .map(([id, own]): TextEdit => ({ path: ["functions", id, "slots"], text: `[${own.join(", ")}]` }));
  const most = Math.max(...[...slotsAfter(before, change).values()].flat());
  return most > profile.slots ? [...slots, { path: ["slots"], text: String(most) }] : slots;
};

const turnedRound = ({ functions }: Profile, id: FunctionId): readonly TextEdit[] => {
  const spec = functions.get(id);
  if (spec?.kind === "travel") {
    const key = (end: "from" | "to") => ["functions", id, `${end}_${spec.unit}`];
    return [
      { path: key("from"), text: String(spec.to) },
      { path: key("to"), text: String(spec.from) },
    ];
  }
  if (spec?.kind !== "banded") return [];
  return spec.bands.flatMap(({ is, range }, index): readonly TextEdit[] => {
    const at = (key: string) => ["functions", id, "bands", index, key];
    const opposite = OPPOSITES[is];
    if (opposite !== undefined) return [{ path: at("is"), text: opposite }];
    if (is !== "turn" || !range) return [];
    return [
      { path: at("from_rpm"), text: String(-range[0]) },
      { path: at("to_rpm"), text: String(-range[1]) },
    ];
  });
};

const OPPOSITES: Readonly<Record<string, string>> = { in: "out", out: "in", open: "closed", closed: "open" };

const renamed = ({ functions }: Profile, { function: id, by }: Extract<ProfileChange, { kind: "names-shifted" }>) => {
  const spec = functions.get(id);
  const positions = spec?.kind === "wheel" ? spec.positions : [];
  return positions.map((_, index): TextEdit => {
    const { is = "" } = positions[(index + by + positions.length) % positions.length] ?? {};
    return { path: ["functions", id, "positions", index, "is"], text: JSON.stringify(is) };
  });
};
