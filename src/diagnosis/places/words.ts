import { fullRaw, rawOf, type Travel } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";
import { type Assessment, turnedShort } from "./assessment.ts";
import type { PatternBelief, Spread } from "./beliefs.ts";
import type { FoundPlace } from "./found-place.ts";
import { guessWords, patternWords } from "./pattern.ts";

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

/** The place and how far it may be off. With presses one way only it depends on how quick the person is. */
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

/** What a person sees in the middle of the travel of pan and tilt, where the profile or the bench can say: "the display side". */
const MIDDLE = "mid-travel";

/** A place as a person finds it: "a quarter turn from mid-travel towards the high end (90 degrees)", "at 62 %". */
export const placeWords = (id: FunctionId, travel: Travel, place: number, middle = MIDDLE): string => {
  if (id !== "Pan" && id !== "Tilt") return `at ${measured(travel, place)}`;
  const from = place - (travel.from + travel.to) / 2;
  if (Math.abs(from) < 2) return `at ${middle} (${measured(travel, place)})`;
  const side = from > 0 === travel.to > travel.from ? "high" : "low";
  return `${turnWords(Math.abs(from))} from ${middle} towards the ${side} end (${measured(travel, place)})`;
};

/** The value to set for a place: "DMX 43691 of 65535". `place` is in the travel's unit, degrees or per cent. */
export const dmxWords = (travel: Travel, place: number): string => `DMX ${rawOf(travel, place)} of ${fullRaw(travel)}`;

/**
 * A place of a travel as a whole number with its unit.
 *
 * @param value - degrees or percent, as the travel has it
 */
export const measured = (travel: Travel, value: number): string => withUnit(travel, String(Math.round(value)));

/**
 * How far a place may be off, rounded up, so that it never claims more than is known. `reach` is in
 * the travel's unit, degrees or per cent.
 */
export const reachWords = (travel: Travel, reach: number): string =>
  withUnit(travel, String(reach < 1.95 ? Math.ceil(reach * 10 - 1e-9) / 10 : Math.ceil(reach - 1e-9)));

const withUnit = ({ unit }: Travel, number: string): string =>
  unit === "pct" ? `${number} %` : `${number} ${Math.abs(Number(number)) === 1 ? "degree" : "degrees"}`;

const TURNS: readonly (readonly [degrees: number, words: string])[] = [
  [45, "an eighth of a turn"],
  [90, "a quarter turn"],
  [135, "three eighths of a turn"],
  [180, "half a turn"],
  [225, "five eighths of a turn"],
  [270, "three quarters of a turn"],
];

const turnWords = (degrees: number): string => {
  const near = TURNS.find(([turn]) => Math.abs(degrees - turn) <= 8);
  if (!near) return `${Math.round(degrees)} degrees`;
  return Math.abs(degrees - near[0]) <= 2 ? near[1] : `about ${near[1]}`;
};
