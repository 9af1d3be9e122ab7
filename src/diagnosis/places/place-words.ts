import { fullRaw, rawOf, type Travel } from "../../data/profile/profile.ts";
import type { FunctionId } from "../../domain/trade/functions.ts";

/** What a person sees in the middle of the travel of pan and tilt, where the profile or the bench can say: "the display side". */
export const MIDDLE = "mid-travel";

/** A place as a person finds it: "a quarter turn from mid-travel towards the high end (90 degrees)", "at 62 %". */
export const placeWords = (id: FunctionId, travel: Travel, place: number, middle = MIDDLE): string => {
  if (id !== "Pan" && id !== "Tilt") return `at ${measured(travel, place)}`;
  const from = place - (travel.from + travel.to) / 2;
  if (Math.abs(from) < 2) return `at ${middle} (${measured(travel, place)})`;
  const side = from > 0 === travel.to > travel.from ? "high" : "low";
  return `${turnWords(Math.abs(from))} from ${middle} towards the ${side} end (${measured(travel, place)})`;
};

/** The value to set for it: "DMX 43691 of 65535". */
export const dmxWords = (travel: Travel, place: number): string => `DMX ${rawOf(travel, place)} of ${fullRaw(travel)}`;

/**
 * A place of a travel as a whole number with its unit.
 *
 * @param value - degrees or percent, as the travel has it
 */
export const measured = (travel: Travel, value: number): string => withUnit(travel, String(Math.round(value)));

/** Rounded up, so that it never claims more than is known. */
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
