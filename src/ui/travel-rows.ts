import type { Profile } from "../data/profile/profile.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { AXIS_FUNCTIONS, type FunctionId, functionWords } from "../domain/trade/functions.ts";
import type { Frame } from "../domain/units.ts";
import type { CompiledStep } from "../plan/timeline.ts";
import { functionNames, movingOf, type Seen, seenPlace } from "./seen.ts";
import type { AloneSight, Moving } from "./sight.ts";
import type { Marked } from "./strip.ts";
import { toldPlace } from "./told.ts";
import { atMost, type Line, legend, said } from "./view.ts";

const MOST_STRIPS = 4;
/** Where the functions under test are along their travel, a strip for each of the first few. */
export const travelRows = (sight: AloneSight, stage: Moving): readonly Line[] => {
  const ids = stripsFor(sight, stage);
  const marks = ids.slice(0, MOST_STRIPS).map((id) => markOf(sight, stage, id));
  const others = ids.slice(MOST_STRIPS);
  return [
    ...(marks.length > 0 ? [{ kind: "strips", marks, detail: detailOf(ids) } as const] : []),
    ...(others.length > 0 ? said(`and ${functionNames(others)}`, "faint", 1) : []),
    ...(marks.length > 0 ? [legend(legendOf(sight, stage))] : []),
  ];
};

/** Nobody follows more than two of them so closely. */
const detailOf = (ids: readonly FunctionId[]) => (ids.length <= 2 ? "with the lag enlarged" : "plain");

/** The functions that have a strip: those under test; of the fixture as a whole pan and tilt stand for it. */
export const stripsFor = ({ seen, session }: AloneSight, { step }: Moving): readonly FunctionId[] =>
  step.functions.length > 0 || !seen
    ? step.functions
    : AXIS_FUNCTIONS.filter((id) => session.job.timeline.profile.functions.has(id));

/** While it homes, or plays its own test, nobody tells it anything. */
const NOWHERE = { share: undefined, words: "" };
const movesByItself = ({ routine }: CompiledStep) => routine === "power-up" || routine === "self-test";

/** Where a function is commanded to be in this frame, and where it is seen to be at a simulated fixture. */
export const markOf = (
  { session, seen, frame }: AloneSight,
  { step }: Pick<Moving, "step">,
  id: FunctionId,
): Marked => ({
  label: functionWords(id),
  ...travelAt(session.job.timeline.profile, step, id, frame, seen),
});

/**
 * Where a function of any fixture that plays a step, alone or among others, is commanded to be in frame `n` of the step, from 0,
 * and where a simulated one is seen to be.
 */
export const travelAt = (
  profile: Profile,
  step: CompiledStep,
  id: FunctionId,
  n: Frame,
  seen: Seen | undefined,
): Pick<Marked, "told" | "seen"> => {
  const told = movesByItself(step) ? NOWHERE : toldPlace(profile, step, id, n);
  return { told, seen: seen && seenPlace(seen, id, profile, told) };
};

const legendOf = ({ seen }: AloneSight, stage: Moving): string => {
  if (!seen) return "| commanded position; only you can see the actual one";
  if (movesByItself(stage.step)) return "O actual";
  const lag = stage.step.functions.length <= 2 ? "    lag: the difference, enlarged" : "";
  return `O actual    | commanded${lag}`;
};

/**
 * What can be seen of a simulated fixture besides the functions under test, in place of eyes and ears. Always the same
 * number of rows, so that what is below does not jump.
 */
export const spectacleRows = ({ seen, at }: AloneSight, under: readonly FunctionId[]): readonly Line[] => {
  if (!seen) return [];
  const { sounds, light, display } = seen.spectacle;
  const moving = movingOf(seen, at).filter((id) => !under.includes(id));
  return [
    `You hear: ${sounds.length > 0 ? sounds.map(safeText).join(", ") : "nothing"}.`,
    `On the wall: ${safeText(light)}.  Display: ${display === "" ? "dark" : safeText(display)}.`,
    movesInWords(under, moving),
  ].flatMap((words) => atMost(1, said(words)));
};

const movesInWords = (under: readonly FunctionId[], moving: readonly FunctionId[]): string => {
  const names = functionNames(moving);
  if (under.length > 0) return names === "" ? "Nothing else moves." : `Also moving: ${names}.`;
  return names === "" ? "Nothing moves." : `Moving: ${names}.`;
};
