import { stripOf, stripRows, ticksInWords } from "../diagnosis/places/strip.ts";
import { sayAssessment } from "../diagnosis/places/words.ts";
import { safeText } from "../domain/problem/terminal.ts";
import { followUpInWords } from "../reports/next-words.ts";
import { hanging } from "../reports/wrap.ts";
import { spotOf } from "../run/session/at-spot.ts";
import { answerRows } from "./answer-rows.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import { asRow, BLANK, capital, MARGIN, type Row, said } from "./rows.ts";
import type { Sight, StageOf } from "./sight.ts";

type Placed = StageOf<"placed">;

/** Where in its travel a function was pressed for, drawn and in words; what it may be now; what would tell more. */
export const placedRows = (sight: Sight, stage: Placed): readonly Row[] => [
  ...foundRows(sight, stage),
  BLANK,
  ...drawnRows(stage),
  BLANK,
  ...faultRows(sight, stage),
  BLANK,
  ...testRows(sight, stage),
  ...keyRows(sight, stage),
];

/** The same without a drawing, for whoever hears it read. */
export const placedInWords = (sight: Sight, stage: Placed): readonly Row[] => [
  ...foundRows(sight, stage),
  ...ticksInWords(stage.assessment).map((words) => asRow(words)),
  ...faultRows(sight, stage),
  ...testRows(sight, stage),
  ...keyRows(sight, stage),
];

const foundRows = ({ size }: Sight, { function: id, assessment }: Placed): readonly Row[] =>
  said(`${sayAssessment(id, assessment).map(capital).join(". ")}.`, size.columns, "strong");

const STRIP_COLUMNS = 74;

const drawnRows = ({ assessment }: Placed): readonly Row[] => {
  const strip = stripOf(assessment);
  if (!strip) return [];
  return [
    ...stripRows(strip, STRIP_COLUMNS).map((text) => asRow(text)),
    asRow(`> pressed going up   < going down   4: four there${strip.place ? "   [=] here it is" : ""}`, "faint", 1),
  ];
};

const faultRows = ({ size }: Sight, { faults }: Placed): readonly Row[] => {
  const [first, ...others] = faults;
  if (!first) return [];
  const after = others.map(({ title, belief }) => `${title} (${belief})`).join("; ");
  return [
    ...said(`${capital(first.belief)} now: ${safeText(first.title)}.`, size.columns, "strong"),
    ...said(after === "" ? "" : `Then: ${safeText(after)}.`, size.columns, "plain", 1),
  ];
};

const testRows = ({ size }: Sight, { tests }: Placed): readonly Row[] =>
  tests.flatMap((test, at) =>
    hanging(`${at + 1}  `, followUpInWords(test), size.columns - 2 * MARGIN).map((line) => asRow(line)),
  );

const keyRows = (sight: Sight, stage: Placed): readonly Row[] => {
  const { plan, size, session } = sight;
  const { slower, undo, away, return: back } = plan.letters;
  const spot = spotOf(session, stage) !== undefined;
  return [
    ...said(
      spot ? `${keyWords(back)}: it goes back there and works to and fro slowly, to be looked at.` : "",
      size.columns,
    ),
    ...answerRows(sight, said("ENTER: on with the run. A digit moves it now, at once.", size.columns, "strong")),
    ...said(
      `The step again: ${anyOf(plan.again)}, slower: ${keyWords(slower)}. Take back the answer: ${keyWords(undo)}. ` +
        `Leaving: ${keyWords(away)}. Stop it all: ${anyOf(plan.stop)}.`,
      size.columns,
    ),
  ];
};
