import { type Profile, physicalOf, type Raw, type Travel } from "../data/profile/profile.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import { secondsOf } from "../domain/units.ts";
import type { CompiledStep, Move } from "../plan/timeline.ts";
import { placeOfRaw } from "./told.ts";

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
