import type { Path } from "../../../domain/problem/document.ts";
import type { Seconds } from "../../../domain/units.ts";
import { axesOf, functionsOfKind, type ProfileFinding, type ProfileRule, says } from "./rule.ts";

/** Longer nothing of the kind takes (judgement). */
const LONGEST: Readonly<Record<string, Seconds>> = {
  power_up_s: 300,
  full_travel_s: 30,
  lag_s: 1.5,
  step_s: 5,
  move_s: 5,
  strike_s: 60,
  warm_s: 900,
  restrike_s: 3600,
  hold_s: 30,
  then_s: 300,
};

/** Milliseconds where seconds are meant. */
export const milliseconds: ProfileRule = {
  name: "milliseconds",
  why: "A run waits as long as the profile says, and calls a fixture quick that is not.",
  find: ({ written }) => timesIn(written, []),
};

const timesIn = (value: unknown, path: Path): readonly ProfileFinding[] => {
  if (typeof value === "object" && value !== null)
    return Object.entries(value).flatMap(([key, inner]) => timesIn(inner, [...path, keyIn(value, key)]));
  const key = String(path.at(-1));
  const longest = LONGEST[key];
  if (typeof value !== "number" || longest === undefined || value <= longest) return [];
  const seconds = value / 1000;
  const message = `${value} seconds, longer than anything of the kind takes`;
  return [{ path, message, instead: `${key}: ${seconds} if these are milliseconds` }];
};

const keyIn = (value: object, key: string): PropertyKey => (Array.isArray(value) ? Number(key) : key);

/** Degrees a second; quicker no axis is, not even with a mirror (judgement). */
const QUICKEST = 700;

/** A pan or tilt that would be quicker than any. */
export const tooQuick: ProfileRule = {
  name: "too-quick",
  why: "Every movement is then too slow for the profile, and a good fixture is called slow.",
  find: (read) =>
    axesOf(read).flatMap(([id, { from, to, fullTravel, unit }]) => {
      const speed = Math.round(Math.abs(to - from) / fullTravel);
      return unit !== "deg" || speed <= QUICKEST
        ? []
        : [
            {
              path: ["functions", id, "full_travel_s"],
              message: `${speed} degrees a second`,
              instead: "seconds from one end to the other, not for a part of the way",
            },
          ];
    }),
};

/** A shutter, prism or frost in bands of which nobody says how long a change takes. */
export const moveTimeMissing: ProfileRule = {
  name: "move-time-missing",
  why: "A slow blade is called slow only beside the time that a good one takes.",
  find: (read) =>
    functionsOfKind(read, "banded").flatMap(([id, { bands }]) =>
      says(read, id, "move_s") || !bands.some(({ is }) => is === "in" || is === "closed")
        ? []
        : [
            {
              path: ["functions", id],
              at: "key" as const,
              message: `${id} does not say how long a change takes`,
              instead: "move_s: 0.1 for a shutter, 0.6 for a prism or frost",
            },
          ],
    ),
};

/** A pan or tilt of which nobody says how late it follows. */
export const lagMissing: ProfileRule = {
  name: "lag-missing",
  why: "A press is put back by the lag to find the place: a tenth of a second is many degrees at full speed.",
  find: (read) =>
    axesOf(read).flatMap(([id]) =>
      says(read, id, "lag_s")
        ? []
        : [
            {
              path: ["functions", id],
              at: "key" as const,
              message: `${id} does not say how late it follows`,
              instead: "lag_s: 0.3, or what limber profile verify measures",
            },
          ],
    ),
};

/** Quicker no moving light finds all its homes (judgement). */
const SHORTEST: Seconds = 5;

/** A fixture that would be ready as soon as it has power. */
export const powerUpTooShort: ProfileRule = {
  name: "power-up-too-short",
  why: "It is deaf while it homes: a test begun too early is a test of nothing.",
  find: ({ written }) =>
    written.power_up_s >= SHORTEST
      ? []
      : [
          {
            path: ["power_up_s"],
            message: `homes in ${written.power_up_s} s`,
            instead: `seconds from the mains on: ${written.power_up_s * 60} if these are minutes`,
          },
        ],
};

/** A discharge lamp that would be there at once. */
export const lampTimesMissing: ProfileRule = {
  name: "lamp-times-missing",
  why: "Light and colour are judged only when the lamp is warm, and a hot lamp must cool before it strikes again.",
  find: ({ written: { lamp } }) =>
    (["strike_s", "warm_s", "restrike_s"] as const).flatMap((key) =>
      lamp.kind === "discharge" && lamp[key] === 0
        ? [
            {
              path: ["lamp", key],
              message: "a discharge lamp takes its time",
              instead: `${key}: ${USUAL[key]}, or as the lamp's maker says`,
            },
          ]
        : [],
    ),
};

const USUAL = { strike_s: 6, warm_s: 150, restrike_s: 480 } as const;

/** Amperes; more no single moving light takes (judgement). */
const MOST = 20;

/** Watts or milliamperes where amperes are meant. */
export const currentTooHigh: ProfileRule = {
  name: "current-too-high",
  why: "Starts are spread by this number: watts taken for amperes leave one fixture on a circuit.",
  find: ({ written: { running_a } }) =>
    running_a === undefined || running_a <= MOST
      ? []
      : [
          {
            path: ["running_a"],
            message: `${running_a} amperes`,
            instead: `amperes: ${Math.round((running_a / 230) * 10) / 10} if these are watts at 230 V`,
          },
        ],
};
