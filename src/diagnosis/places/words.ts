import type { Travel } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import type { Assessment } from "./assessment.ts";
import type { PatternBelief } from "./beliefs.ts";
import type { FoundPlace } from "./found-place.ts";
import { guessWords, patternWords } from "./pattern-words.ts";
import { dmxWords, MIDDLE, placeWords, reachWords } from "./place-words.ts";
import { turnedShort } from "./settled.ts";
import type { Spread } from "./spread.ts";

/** What the presses say, in sentences for a technician, the finding first; `middle` names what faces one at mid-travel. */
export const sayAssessment = (id: FunctionId, assessment: Assessment, middle = MIDDLE): readonly string[] => {
  const { settled, watches, place } = assessment;
  const travel = watches[0]?.travel;
  if (!travel) return [];
  if (!settled) return cannotSay(assessment);
  const found = settled.pattern.kind === "position" ? place : undefined;
  const said = [patternWords(settled.pattern), ...whereWords(id, travel, settled, found, middle)].join(", ");
  return [said, ...(found ? [...tooFew(found), ...playWords(travel, found)] : [])];
};

const whereWords = (
  id: FunctionId,
  travel: Travel,
  { pattern, place }: PatternBelief,
  found: FoundPlace | undefined,
  middle: string,
): readonly string[] => {
  if (found) return [foundWords(id, travel, found, middle)];
  if (!place) return pattern.kind === "one-way" ? ["all along"] : [];
  return [spreadWords(id, travel, place, middle)];
};

const foundWords = (id: FunctionId, travel: Travel, { at, interval }: FoundPlace, middle: string): string => {
  const reach = interval && reachWords(travel, Math.max(interval.high - at, at - interval.low));
  return `${placeWords(id, travel, at, middle)}${reach ? `, plus or minus ${reach}` : ""}; ${dmxWords(travel, at)}`;
};

const tooFew = ({ interval, midpoints: { up, down } }: FoundPlace): readonly string[] =>
  interval ? [] : [`${up} up and ${down} down are too few presses to say how exactly: four each way are enough`];

/** With presses one way only the place hangs on how quick the person is. */
const spreadWords = (id: FunctionId, travel: Travel, { at, low, high }: Spread, middle: string): string => {
  const reach = reachWords(travel, Math.max(high - at, at - low));
  return `${placeWords(id, travel, at, middle)}, plus or minus ${reach} for how quick the presses were; ${dmxWords(travel, at)}`;
};

const playWords = (travel: Travel, { play }: FoundPlace): readonly string[] => {
  const error = play?.play.error;
  if (!play || error === undefined) return [];
  if (play.play.value < 2 * error) return ["the two speeds show no play"];
  return [
    `the two speeds show play of about ${reachWords(travel, 2 * play.play.value)}, plus or minus ${reachWords(travel, 4 * error)}`,
  ];
};

const cannotSay = ({ beliefs, watches }: Assessment): readonly string[] => {
  const likely = [...new Set(beliefs.filter(({ belief }) => belief >= 0.1).map(({ pattern }) => guessWords(pattern)))];
  const ends = beliefs[0] && beliefs[0].belief >= 0.95 && !turnedShort(watches);
  return [
    `inconclusive: ${likely.slice(0, 3).join(", or ")}`,
    ...(ends ? ["only a sweep that stops short of the ends can tell"] : []),
  ];
};
