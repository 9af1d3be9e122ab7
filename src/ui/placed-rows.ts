import { stripOf, stripRows, ticksInWords } from "../diagnosis/places/strip.ts";
import { sayAssessment } from "../diagnosis/places/words.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { followUpInWords } from "../reports/next-words.ts";

import { spotOf } from "../run/session/at-spot.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { Sight, StageOf } from "./sight.ts";
import { BLANK, capital, type Line, legend, option, said, toAnswer } from "./view.ts";

type Placed = StageOf<"placed">;

/**
 * The page of where in its travel a function was pressed for: drawn and in words, what it
 * may be now, and what would tell more.
 */
export const placedRows = (sight: Sight, stage: Placed): readonly Line[] => [
  ...foundRows(stage),
  BLANK,
  ...drawnRows(stage),
  BLANK,
  ...faultRows(stage),
  BLANK,
  ...testRows(stage),
  ...keyRows(sight, stage),
];

const foundRows = ({ function: id, assessment }: Placed): readonly Line[] =>
  said(`${sayAssessment(id, assessment).map(capital).join(". ")}.`, "strong");

const STRIP_COLUMNS = 74;

const drawnRows = ({ assessment }: Placed): readonly Line[] => {
  const strip = stripOf(assessment);
  const words = ticksInWords(assessment);
  if (!strip) return [{ kind: "drawing", rows: [], words }];
  return [
    { kind: "drawing", rows: stripRows(strip, STRIP_COLUMNS), words },
    legend(`> pressed going up   < going down   4: four presses${strip.place ? "   [=] fault position" : ""}`),
  ];
};

const faultRows = ({ faults }: Placed): readonly Line[] => {
  const [first, ...others] = faults;
  if (!first) return [];
  const after = others.map(({ title, belief }) => `${title} (${belief})`).join("; ");
  return [
    ...said(`${capital(first.belief)} now: ${safeText(first.title)}.`, "strong"),
    ...said(after === "" ? "" : `Then: ${safeText(after)}.`, "plain", 1),
  ];
};

const testRows = ({ tests }: Placed): readonly Line[] => tests.map((test, at) => option(at + 1, followUpInWords(test)));

const keyRows = (sight: Sight, stage: Placed): readonly Line[] => {
  const { plan, session } = sight;
  const { slower, undo, away, return: back } = plan.letters;
  const spot = spotOf(session, stage) !== undefined;
  return [
    ...said(spot ? `${keyWords(back)}: go back to the fault position and move slowly to and fro there.` : ""),
    ...toAnswer(said("ENTER: continue the run. A digit starts that test at once: it moves.", "strong")),
    ...said(
      `Repeat the step: ${anyOf(plan.again)}, slower: ${keyWords(slower)}. Undo the answer: ${keyWords(undo)}. ` +
        `Pause: ${keyWords(away)}. Stop it all: ${anyOf(plan.stop)}.`,
    ),
  ];
};
