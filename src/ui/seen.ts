import type { Profile } from "../data/profile/profile.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import type { Milliseconds } from "../domain/units.ts";
import type { Spectacle } from "../run/ports.ts";
import { goesRound, type TravelPlace } from "./told.ts";

/** What the simulated fixture shows now, and what of it has moved just before. */
export interface Seen {
  readonly spectacle: Spectacle;
  /** When each part was last seen to move, in milliseconds of whoever looks. */
  readonly moved: ReadonlyMap<FunctionId, number>;
}

/** Less than this is not seen: of the travel, or of a turn. */
const LEAST = 0.002;
const JUST_NOW_MS = 700;

/** What is seen after one more look. `at` is when, in milliseconds by the clock of the screen. */
export const look = (before: Seen | undefined, spectacle: Spectacle, at: Milliseconds): Seen => {
  const shares = new Map(before?.spectacle.parts.map((part) => [part.function, part.share]));
  const moved = spectacle.parts.filter(
    (part) => Math.abs(part.share - (shares.get(part.function) ?? part.share)) >= LEAST,
  );
  return {
    spectacle,
    moved: new Map([...(before?.moved ?? []), ...moved.map((part) => [part.function, at] as const)]),
  };
};

/**
 * What has moved within the last moment, in the order of the fixture's functions. `at` is now, in
 * milliseconds by the clock of the screen.
 */
export const movingOf = ({ spectacle, moved }: Seen, at: Milliseconds): readonly FunctionId[] =>
  spectacle.parts
    .map((part) => part.function)
    .filter((id) => at - (moved.get(id) ?? Number.NEGATIVE_INFINITY) <= JUST_NOW_MS);

/**
 * Where a part is, on the strip of where it is commanded to be; undefined where it cannot be seen. What goes
 * round is drawn as near to that as it really is: a wheel that has come to its first place by way of its last is
 * at the beginning, not a whole turn away.
 */
export const seenPlace = (
  { spectacle }: Seen,
  id: FunctionId,
  profile: Profile,
  told: TravelPlace,
): TravelPlace | undefined => {
  const part = spectacle.parts.find((one) => one.function === id);
  if (!part) return undefined;
  const share = goesRound(profile, id) ? nearTo(told.share, part.share) : part.share;
  return { share, words: safeText(undrawn(part.words)) };
};

const nearTo = (told: number | undefined, turns: number): number => {
  if (told === undefined) return turns - Math.floor(turns);
  const apart = turns - told;
  return told + apart - Math.round(apart);
};

/** What the strip itself shows is not told besides. */
const undrawn = (words: string): string => words.replace(/(?:^|, )trembles/, "");

/** Several functions in words, with commas between them. */
export const functionNames = (ids: readonly FunctionId[]): string => ids.map(functionWords).join(", ");
