import type { Seconds } from "../domain/units.ts";

/** A time in words: "12 s", "2 min 40 s". */
export const spanInWords = (time: Seconds): string => {
  const whole = Math.max(0, Math.ceil(time));
  const minutes = Math.floor(whole / 60);
  const seconds = whole % 60;
  if (minutes === 0) return `${seconds} s`;
  return seconds === 0 ? `${minutes} min` : `${minutes} min ${seconds} s`;
};
