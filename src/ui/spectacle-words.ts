import { safeText } from "../domain/problem/terminal.ts";
import { functionWords } from "../domain/trade/functions.ts";
import type { Seen } from "./seen.ts";
import type { Sight } from "./sight.ts";

/**
 * What can be seen and heard of the simulated fixture now and could not before, in sentences. Travel
 * is not told: it changes all the time.
 */
export const spectacleChanges = (before: Sight | undefined, now: Sight): readonly string[] => {
  const [old, seen] = [before?.seen?.spectacle, now.seen?.spectacle];
  if (!seen || seen === old) return [];
  const { sounds, light, display } = seen;
  return [
    ...(sounds.join() === (old?.sounds.join() ?? "")
      ? []
      : [sounds.length > 0 ? `You hear: ${sounds.map(safeText).join(", ")}.` : "It is quiet."]),
    ...(light === old?.light ? [] : [`On the wall: ${safeText(light)}.`]),
    ...(display === (old?.display ?? "") ? [] : [`Display: ${display === "" ? "dark" : safeText(display)}.`]),
    ...partChanges(old, seen),
  ];
};

type Shown = Seen["spectacle"];

/** "colour wheel: red": words, not figures. */
const partChanges = (old: Shown | undefined, { parts }: Shown): readonly string[] =>
  parts.flatMap((part) => {
    const was = old?.parts.find((one) => one.function === part.function)?.words ?? "";
    if (part.words === was || /\d/.test(part.words + was)) return [];
    return part.words === "" ? [] : [`${functionWords(part.function)}: ${safeText(part.words)}.`];
  });
