import type { Profile } from "../../data/profile/profile.ts";
import { answerInWords, settingInWords, WHEN_NOTHING_MOVES } from "../../data/rack/what-moved.ts";
import { type ProfileChange, slotsAfter } from "./change.ts";
import { contradictions, type SlotMap, type SlotMoved, slotsOf } from "./steps.ts";

/** What the answers to "what moved?" come to. */
type MendFound =
  | { readonly kind: "as-told" }
  /** Nothing at all moved. */
  | { readonly kind: "silent" }
  /** Not the profile is wrong but what the fixture is set to, or which profile was taken. */
  | { readonly kind: "setting"; readonly words: string }
  /** These changes make the profile say what was seen. */
  | { readonly kind: "changes"; readonly changes: readonly ProfileChange[] }
  /** Some answers go with none of the usual mistakes; these changes are the nearest. */
  | { readonly kind: "unclear"; readonly changes: readonly ProfileChange[]; readonly left: readonly SlotMoved[] };

/** More mistakes than this at once are a chart of another fixture. */
const MOST_CHANGES = 4;
/** Slots that a chart is off by. */
const SHIFTS = [1, -1, 2, -2] as const;

/**
 * Works out from what moved instead which mistakes are likeliest: a wrong setting explains all at once, else the fewest
 * usual slips. `address` is the start address that the fixture was commanded on, 1 to 512.
 */
export const mend = (
  profile: Profile,
  otherModes: readonly Profile[],
  address: number,
  answers: readonly SlotMoved[],
): MendFound => {
  const told = slotsOf(profile);
  if (contradictions(told, told, answers) === 0) return { kind: "as-told" };
  if (answers.every(({ moved }) => moved === "nothing")) return { kind: "silent" };
  const words = settingFor(told, otherModes, address, answers);
  if (words !== undefined) return { kind: "setting", words };
  const changes = fewestChanges(told, answers);
  const real = changes.reduce(slotsAfter, told);
  const left = answers.filter((answer) => contradictions(told, real, [answer]) > 0);
  return left.length === 0 ? { kind: "changes", changes } : { kind: "unclear", changes, left };
};

const settingFor = (
  told: SlotMap,
  otherModes: readonly Profile[],
  address: number,
  answers: readonly SlotMoved[],
): string | undefined => {
  const mode = otherModes.find((other) => contradictions(told, slotsOf(other), answers) === 0);
  if (mode) return settingInWords({ kind: "mode", profile: mode, offset: 0 }, address);
  const by = OFFSETS.find((offset) => contradictions(told, all(told, offset), answers) === 0);
  return by === undefined || address + by < 1 ? undefined : settingInWords({ kind: "address", offset: by }, address);
};

/** Two fixtures' worth either way, the nearest first. */
const OFFSETS = Array.from({ length: 128 }, (_, index) => (index % 2 === 0 ? 1 : -1) * (Math.floor(index / 2) + 1));

/** A fixture that is set some slots further on hears in its first slot what is meant for a later one. */
const all = (told: SlotMap, offset: number): SlotMap =>
  new Map([...told].map(([id, slots]) => [id, slots.map((slot) => slot + offset)]));

/** The change that explains most, again and again, as long as one explains more. */
const fewestChanges = (told: SlotMap, answers: readonly SlotMoved[]): readonly ProfileChange[] => {
  const changes: ProfileChange[] = [];
  let real = told;
  for (let left = contradictions(told, real, answers); left > 0 && changes.length < MOST_CHANGES; ) {
    const tried = candidates(real).map((change) => {
      const after = slotsAfter(real, change);
      return { change, after, left: contradictions(told, after, answers) };
    });
    const best = tried.reduce((a, b) => (b.left < a.left ? b : a));
    if (best.left >= left) break;
    changes.push(best.change);
    ({ after: real, left } = best);
  }
  return changes;
};

/** The usual slips, the most usual first. */
const candidates = (slots: SlotMap): readonly ProfileChange[] => {
  const ids = [...slots.keys()];
  const starts = [...slots.values()].flatMap(([coarse = 1]) => (coarse > 1 ? [coarse] : []));
  return [
    ...ids.flatMap((id): readonly ProfileChange[] =>
      (slots.get(id)?.length ?? 1) > 1 ? [{ kind: "fine-first", function: id }] : [],
    ),
    ...starts.flatMap((from) => SHIFTS.map((by): ProfileChange => ({ kind: "shifted", from, by }))),
    ...ids.flatMap((one, index) =>
      ids.slice(index + 1).map((other): ProfileChange => ({ kind: "exchanged", one, other })),
    ),
  ];
};

/** What the answers to "what moved?" come to, for the person who gave them. */
export const foundInWords = (found: MendFound): readonly string[] => {
  switch (found.kind) {
    case "as-told":
      return ["Every function moves what the profile says."];
    case "silent":
      return [
        "Nothing moves at all. Not the profile is to be looked at first:",
        ...WHEN_NOTHING_MOVES.map((look) => `- ${look}`),
      ];
    case "setting":
      return ["Not the profile, but:", `- ${found.words}. Correct that and verify it again.`];
    case "changes":
      return ["What was seen goes with this:"];
    case "unclear":
      return [
        "Not all of this goes together; look at the chart again:",
        ...found.left.map((answer) => `- ${answerInWords(answer)}.`),
        ...(found.changes.length > 0 ? ["The nearest to it:"] : []),
      ];
    default:
      return found satisfies never;
  }
};
