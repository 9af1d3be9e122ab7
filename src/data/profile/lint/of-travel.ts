import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { Degrees } from "../../../domain/units.ts";
import { axesOf, functionsOfKind, type ProfileRule } from "./rule.ts";

/** Less travel no axis has, not even of a mirror (judgement). */
const NARROWEST: Degrees = 20;

/** A pan or tilt that hardly travels. */
export const degreesTooFew: ProfileRule = {
  name: "degrees-too-few",
  why: "Turns or radians taken for degrees turn a snap of 15 degrees into a jump from end to end.",
  find: (read) =>
    axesOf(read).flatMap(([id, { from, to, unit }]) => {
      const span = Math.abs(to - from);
      return unit !== "deg" || span >= NARROWEST
        ? []
        : [
            {
              path: ["functions", id, "to_deg"],
              message: `a travel of only ${span} degrees`,
              instead: "degrees: a turn is 360, a radian 57.3",
            },
          ];
    }),
};

/** A wider travel no fixture has (judgement). */
const WIDEST: Partial<Record<FunctionId, Degrees>> = { Pan: 720, Tilt: 360, ShaperRot: 360 };

/** Degrees in the thousands. */
export const degreesTooMany: ProfileRule = {
  name: "degrees-too-many",
  why: "Tenths or raw values taken for degrees make every speed wrong, and open the beam where it must be shut.",
  find: (read) =>
    functionsOfKind(read, "travel").flatMap(([id, { from, to, unit }]) => {
      const widest = WIDEST[id];
      const span = Math.abs(to - from);
      return unit !== "deg" || widest === undefined || span <= widest
        ? []
        : [
            {
              path: ["functions", id, "to_deg"],
              message: `a travel of ${span} degrees`,
              instead: `whole degrees, at most ${widest} from end to end`,
            },
          ];
    }),
};

/** Degrees counted from one end instead of from the middle. */
export const zeroAtAnEnd: ProfileRule = {
  name: "zero-at-an-end",
  why: "Bench files count from the middle: the beam would open where this bench does not allow it.",
  find: (read) =>
    axesOf(read).flatMap(([id, { from, to, unit }]) => {
      const half = (to - from) / 2;
      return unit !== "deg" || (from < 0 && to > 0) || (from > 0 && to < 0)
        ? []
        : [
            {
              path: ["functions", id, "from_deg"],
              message: `counts from ${from} to ${to} degrees, and so not from its middle`,
              instead: `from_deg: ${-half}, to_deg: ${half}`,
            },
          ];
    }),
};

/** A zoom whose angles are none of a beam. */
export const zoomAngle: ProfileRule = {
  name: "zoom-angle",
  why: "Zoom is judged by its beam angle: millimetres or raw values would call a good one wrong.",
  find: (read) =>
    functionsOfKind(read, "travel").flatMap(([id, { from, to, unit }]) =>
      id !== "Zoom" || unit !== "deg" || (Math.min(from, to) >= 0.5 && Math.max(from, to) <= 110)
        ? []
        : [
            {
              path: ["functions", id, "from_deg"],
              message: `a beam of ${from} to ${to} degrees`,
              instead: "the beam angles at both ends, such as from_deg: 8, to_deg: 42",
            },
          ],
    ),
};

/** 0 to 1 where 0 to 100 is meant. */
export const percentAsShare: ProfileRule = {
  name: "percent-as-share",
  why: "A travel of one percent makes every level of a sequence the same end of it.",
  find: (read) =>
    functionsOfKind(read, "travel").flatMap(([id, { from, to, unit }]) =>
      unit !== "pct" || Math.max(from, to) > 1
        ? []
        : [
            {
              path: ["functions", id, "to_pct"],
              message: `a travel from ${from} to ${to} percent`,
              instead: `from_pct: ${from * 100}, to_pct: ${to * 100}`,
            },
          ],
    ),
};

/** A focus of which nobody says where a gobo is sharp. */
export const focusWithoutSharp: ProfileRule = {
  name: "focus-without-sharp",
  why: "Gobos, prism and zoom are judged by a sharp picture: without its place they are judged soft.",
  find: (read) =>
    functionsOfKind(read, "travel").flatMap(([id, { sharp }]) =>
      id !== "Focus1" || sharp !== undefined
        ? []
        : [
            {
              path: ["functions", id],
              at: "key" as const,
              message: "Focus1 does not say where a gobo is sharp on the wall",
              instead: "sharp_pct: 55, as seen at your distance",
            },
          ],
    ),
};

/** What comes together or not at all (common practice, no source). */
const SETS: readonly (readonly FunctionId[])[] = [
  ["Pan", "Tilt"],
  ["ColorSub_C", "ColorSub_M", "ColorSub_Y"],
  ["ColorAdd_R", "ColorAdd_G", "ColorAdd_B"],
  ["Blade1A", "Blade1B"],
  ["Blade2A", "Blade2B"],
  ["Blade3A", "Blade3B"],
  ["Blade4A", "Blade4B"],
];

/** One of a set, without the others. */
export const partnerMissing: ProfileRule = {
  name: "partner-missing",
  why: "A line of the chart was passed over, and what it drives is neither tested nor at rest.",
  find: ({ profile }) =>
    SETS.flatMap((set) => {
      const missing = set.filter((id) => !profile.functions.has(id));
      const there = set.find((id) => profile.functions.has(id));
      return there === undefined || missing.length === 0
        ? []
        : [
            {
              path: ["functions", there],
              at: "key" as const,
              message: `${there} is there, ${missing.join(" and ")} not`,
              instead: `the slots of ${missing.join(" and ")}`,
            },
          ];
    }),
};
