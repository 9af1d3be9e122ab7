import { physicalOf } from "../data/profile/profile.ts";
import { placeStrip, placeStripRows, ticksInWords } from "../diagnosis/places/strip.ts";
import { sayAssessment } from "../diagnosis/places/words.ts";
import { safeText } from "../domain/problem/shown-text.ts";
import { functionWords } from "../domain/trade/functions.ts";
import { followUpInWords } from "../reports/next-words.ts";
import { spotOf } from "../run/session/at-spot.ts";
import type { StageOf } from "../run/session/session.ts";
import { anyOf, keyWords } from "./key-plan.ts";
import type { AloneSight } from "./sight.ts";
import { markOf, spectacleRows } from "./travel-rows.ts";
import { BLANK, capital, type Line, legend, option, said, toAnswer } from "./view.ts";

type PlacedStage = StageOf<"placed">;

/**
 * The page of where in its travel a function was pressed for: drawn and in words, what it
 * may be now, and what would tell more.
 */
export const placedRows = (sight: AloneSight, stage: PlacedStage): readonly Line[] => [
  ...foundRows(stage),
  BLANK,
  ...drawnRows(stage),
  BLANK,
  ...faultRows(stage),
  BLANK,
  ...testRows(stage),
  ...keyRows(sight, stage),
];

const foundRows = ({ function: id, assessment }: PlacedStage): readonly Line[] =>
  said(`${sayAssessment(id, assessment).map(capital).join(". ")}.`, "strong");

const STRIP_COLUMNS = 74;

const drawnRows = ({ assessment }: PlacedStage): readonly Line[] => {
  const strip = placeStrip(assessment);
  const words = ticksInWords(assessment);
  if (!strip) return [{ kind: "drawing", rows: [], words }];
  return [
    { kind: "drawing", rows: placeStripRows(strip, STRIP_COLUMNS), words },
    legend(`> pressed going up   < going down   4: four presses${strip.place ? "   [=] fault position" : ""}`),
  ];
};

const faultRows = ({ faults }: PlacedStage): readonly Line[] => {
  const [first, ...others] = faults;
  if (!first) return [];
  const after = others.map(({ title, belief }) => `${title} (${belief})`).join("; ");
  return [
    ...said(`${capital(first.belief)} now: ${safeText(first.title)}.`, "strong"),
    ...said(after === "" ? "" : `Then: ${safeText(after)}.`, "plain", 1),
  ];
};

const testRows = ({ tests }: PlacedStage): readonly Line[] =>
  tests.map((test, at) => option(at + 1, followUpInWords(test)));

const keyRows = (sight: AloneSight, stage: PlacedStage): readonly Line[] => {
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

/** The page back at the fault position: between which places it works, where it is, how to nudge it, how to end it. */
export const spotRows = (sight: AloneSight, stage: StageOf<"at-spot">): readonly Line[] => {
  const { plan } = sight;
  const { function: id } = stage.spot;
  return [
    ...said(spotInWords(sight, stage), "strong"),
    ...said("Look and listen from outside the swing. Nobody reaches in."),
    BLANK,
    { kind: "strips", marks: [markOf(sight, stage, id)], detail: "plain" },
    BLANK,
    ...spectacleRows(sight, [id]),
    BLANK,
    ...said("LEFT or RIGHT: move the position a little that way. UP: faster. DOWN: slower."),
    ...said(`${anyOf(["enter", ...plan.press, ...plan.again, ...plan.stop])}: stop at once.`, "strong"),
    ...said("It stops by itself after a minute without a key.", "faint", 1),
  ];
};

/** How the fixture works at the fault position: "Pan moves to and fro, between 88 and 95 degrees, 2 s one way." */
export const spotInWords = ({ session }: AloneSight, { spot }: StageOf<"at-spot">): string => {
  const travel = session.job.timeline.profile.functions.get(spot.function);
  if (travel?.kind !== "travel") return "";
  const [low, high] = [spot.low, spot.high].map((raw) => oneDecimal(physicalOf(travel, raw)));
  const between = `between ${low} and ${high} ${travel.unit === "deg" ? "degrees" : "%"}, ${oneDecimal(spot.pass)} s one way`;
  return `${capital(functionWords(spot.function))} moves to and fro, ${between}.`;
};

const oneDecimal = (value: number): string => String(Math.round(value * 10) / 10);
