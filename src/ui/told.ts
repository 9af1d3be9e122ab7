import { type Banded, bandOf, type Profile, physicalOf, type Raw, type Travel } from "../data/profile/profile.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import { type Frame, secondsOf } from "../domain/units.ts";
import { rawAt } from "../plan/sample.ts";
import type { CompiledStep, Move } from "../plan/timeline.ts";

/** Where something is along its travel, for a strip and in words. */
export interface TravelPlace {
  /** 0 to 1; undefined while it turns on and on. */
  readonly share: number | undefined;
  readonly words: string;
}

/** Where a function is commanded to be at frame n of a step. */
export const toldPlace = (profile: Profile, step: CompiledStep, id: FunctionId, n: Frame): TravelPlace =>
  placeOfRaw(profile, id, rawAt(step, id, n));

/** Whether a function has no ends: the place after its last one is its first. */
export const goesRound = (profile: Profile, id: FunctionId): boolean => {
  const spec = profile.functions.get(id);
  return (
    spec?.kind === "wheel" || (spec?.kind === "banded" && (bandOf(spec, "index") ?? bandOf(spec, "turn")) !== undefined)
  );
};

/** Where a raw value is in a function's travel: as a share of it, 0 to 1, and in words. */
const placeOfRaw = (profile: Profile, id: FunctionId, raw: Raw): TravelPlace => {
  const spec = profile.functions.get(id);
  switch (spec?.kind) {
    case "travel":
      return { share: (raw - spec.low) / (spec.high - spec.low), words: measured(spec, raw) };
    case "wheel": {
      const index = Math.max(
        0,
        spec.positions.findLastIndex(({ at }) => at <= raw),
      );
      return { share: index / spec.positions.length, words: spec.positions[index]?.is ?? "" };
    }
    case "banded":
      return inBand(spec, raw);
    default:
      return { share: undefined, words: "" };
  }
};

const measured = (travel: Travel, raw: Raw): string => {
  const value = Math.round(physicalOf(travel, raw));
  return travel.unit === "deg" ? `${value} degrees` : `${value} %`;
};

/** A band is chosen by the coarse slot. */
const inBand = (spec: Banded, raw: Raw): TravelPlace => {
  const level = Math.floor(raw / 256 ** (spec.slots.length - 1));
  const band = spec.bands.find(({ from, to }) => level >= from && level <= to);
  if (!band) return { share: undefined, words: "" };
  const value = band.range
    ? band.range[0] + ((band.range[1] - band.range[0]) * (level - band.from)) / Math.max(1, band.to - band.from)
    : 0;
  switch (band.is) {
    case "closed":
      return { share: 1, words: "shut" };
    case "open":
      return { share: 0, words: "open" };
    case "in":
      return { share: 1, words: "in" };
    case "out":
      return { share: 0, words: "out" };
    case "index":
      return { share: (((value / 360) % 1) + 1) % 1, words: `at ${Math.round(value)} degrees` };
    case "turn":
      return { share: undefined, words: turning(value) };
    case "strobe":
      return { share: undefined, words: `flashes, ${oneDecimal(value)} a second` };
    default:
      return { share: bandOf(spec, "index") ? undefined : 0, words: "stands" };
  }
};

const turning = (rpm: number): string =>
  `turns ${rpm < 0 ? "the other way" : "one way"}, ${Math.round(Math.abs(rpm))} a minute`;
const oneDecimal = (value: number): string => String(Math.round(value * 10) / 10);

/**
 * From where to where a step goes, in words: "from -270 to 270 degrees, 2 passes of 5.2 s".
 * Empty when nothing is commanded to move.
 */
export const extentInWords = (profile: Profile, step: CompiledStep): string => {
  const extents = step.functions.map((id) => ({ id, words: extentOf(profile, step, id) })).filter(({ words }) => words);
  const [first] = extents;
  if (!first) return "";
  const alike = extents.every(({ words }) => words === first.words);
  const where = alike
    ? `${extents.length > 1 ? "each " : ""}${first.words}`
    : extents.map(({ id, words }) => `${functionWords(id)} ${words}`).join(", ");
  return [where, passes(step)].filter(Boolean).join(", ");
};

const extentOf = (profile: Profile, step: CompiledStep, id: FunctionId): string => {
  const spec = profile.functions.get(id);
  const visited = visitsOf(step, id);
  if (spec?.kind === "travel") return travelled(spec, visited);
  if (spec?.kind === "wheel" || spec?.kind === "banded")
    return inOrder(visited.map((raw) => placeOfRaw(profile, id, raw).words));
  return "";
};

/** Every place it stands at or passes between, in order, from where the step begins. */
const visitsOf = (step: CompiledStep, id: FunctionId): readonly Raw[] => {
  const moves = step.moves.filter((move) => move.function === id);
  return [step.start.get(id) ?? 0, ...moves.map(({ to }) => to)];
};

const travelled = (travel: Travel, visited: readonly Raw[]): string => {
  const values = visited.map((raw) => Math.round(physicalOf(travel, raw)));
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const unit = travel.unit === "deg" ? "degrees" : "%";
  return low === high ? `at ${low} ${unit}` : `from ${low} to ${high} ${unit}`;
};

const MOST_NAMED = 8;
const inOrder = (words: readonly string[]): string => {
  const named = [...new Set(words)].filter((word) => word !== "");
  const more = named.length - MOST_NAMED;
  return named.slice(0, MOST_NAMED).join(", ") + (more > 0 ? ` and ${more} more` : "");
};

const SWEEPS: readonly string[] = ["sweep", "short-sweep", "soak"];
const passes = (step: CompiledStep): string => {
  if (!SWEEPS.includes(step.routine)) return "";
  const mine = step.moves.filter(({ function: id, frames }) => id === step.functions[0] && frames > 0);
  const [first] = mine satisfies readonly Move[];
  return first ? `${mine.length} passes of ${Math.round(secondsOf(first.frames) * 10) / 10} s` : "";
};
