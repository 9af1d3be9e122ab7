import type { RigOfRun } from "../run/events/rig.ts";

/**
 * Which attempts do not count, and why: "3 attempts do not count: computer too slow, late by up to 31 ms; 3 frames not
 * sent."; empty when all of them count.
 */
export const spoiltInWords = ({ spoilt, worst_late_s, dropped, lost }: RigOfRun): string => {
  if (spoilt === 0) return "";
  const how = [
    ...(worst_late_s >= 0.025 ? [`computer too slow, late by up to ${Math.round(worst_late_s * 1000)} ms`] : []),
    ...(dropped > 0 ? [`${counted(dropped, "frame")} not sent`] : []),
    ...(lost > 0 ? [`DMX line lost ${lost === 1 ? "once" : `${lost} times`}`] : []),
  ];
  return `${counted(spoilt, "attempt")} ${spoilt === 1 ? "does" : "do"} not count: ${how.join("; ")}.`;
};

const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? "" : "s"}`;
