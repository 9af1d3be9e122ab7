import type { Profile } from "../data/profile/profile.ts";
import { type Known, USUAL } from "../diagnosis/places/known.ts";
import { placeStrip, placeStripRows, type Strip } from "../diagnosis/places/strip.ts";
import { sayAssessment } from "../diagnosis/places/words.ts";
import { type FunctionId, functionWords } from "../domain/trade/functions.ts";
import { placedIn } from "../run/events/placed.ts";
import type { RunView } from "../run/events/view.ts";

/** Where in the travel of a function the presses of a run stand, in words and as a strip to be drawn. */
export interface Where {
  readonly function: FunctionId;
  readonly words: readonly string[];
  readonly strip: Strip;
}

const STRIP_COLUMNS = 60;

/** Where in its travel every function was pressed for, of those that had a step of their own and were not found good. */
export const wherePressed = (view: RunView, profile: Profile, known: Known = USUAL): readonly Where[] =>
  placedIn(view, profile, known).flatMap(({ function: id, assessment }) => {
    const strip = placeStrip(assessment);
    return strip ? [{ function: id, words: sayAssessment(id, assessment), strip }] : [];
  });

/** Where it happened in words, "pan: both ways, ...", and the strip below it. */
export const whereInWords = ({ function: id, words, strip }: Where): readonly string[] => [
  `${functionWords(id)}: ${words.join("; ")}`,
  ...placeStripRows(strip, STRIP_COLUMNS),
];
