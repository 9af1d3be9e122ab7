import type { Path } from "../../../domain/problem/document.ts";
import type { Seconds } from "../../../domain/units.ts";
import type { ProfileFinding, ProfileRule } from "./rule.ts";

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
