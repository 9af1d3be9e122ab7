import { assess } from "../presses/assessment.ts";
import { stripRows } from "../presses/strip.ts";
import { type Watch, watchOf } from "../presses/watch.ts";
import { sayAssessment } from "../presses/words.ts";
import type { Profile } from "../profile/profile.ts";
import type { RunView } from "../record/view.ts";
import { fromStored } from "../timeline/stored.ts";
import { type FunctionId, functionWords } from "../trade/functions.ts";

/** Where in the travel of a function the presses of a run stand, in words and as a strip of text rows. */
export interface Where {
  readonly function: FunctionId;
  readonly words: readonly string[];
  readonly strip: readonly string[];
}

const STRIP_COLUMNS = 60;

/** Every function that failed and was pressed in steps of its own; which of several moved functions a press means, nobody knows. */
export const wherePressed = (view: RunView, profile: Profile): readonly Where[] =>
  failedFunctions(view).flatMap((id) => {
    const assessment = assess(watchesOf(view, profile, id));
    return assessment
      ? [{ function: id, words: sayAssessment(id, assessment), strip: stripRows(assessment, STRIP_COLUMNS) }]
      : [];
  });

const failedFunctions = ({ steps }: RunView): readonly FunctionId[] => [
  ...new Set(
    steps.flatMap(({ judged }) =>
      judged?.result === "fail" ? judged.symptoms.flatMap(({ function: id }) => (id === undefined ? [] : [id])) : [],
    ),
  ),
];

/** Long even travel is what places can be read from; jumps and returns only ever happen in the middle. */
const PLACING: readonly string[] = ["sweep", "short-sweep"];

/** At the sequence's own pace: a slower attempt was another movement. */
const watchesOf = (view: RunView, profile: Profile, id: FunctionId): readonly Watch[] => {
  const compiled = [...(view.opened?.steps ?? []), ...view.added];
  return view.steps.flatMap((step, index) => {
    const stored = compiled[index];
    const alone = step.functions.length === 1 && step.functions[0] === id;
    if (!PLACING.includes(step.routine) || !alone || !stored || step.attempt === 0 || step.pace !== 1) return [];
    return watchOf(profile, fromStored(profile, stored), id, step.presses) ?? [];
  });
};

/** "pan: both ways, ...", and the strip below it. */
export const whereInWords = ({ function: id, words, strip }: Where): readonly string[] => [
  `${functionWords(id)}: ${words.join("; ")}`,
  ...strip,
];
