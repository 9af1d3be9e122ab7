import type { RigOfRun } from "../run/events/rig.ts";

/** "The rig itself spoilt 3 attempts, late by up to 31 ms, 3 frames not sent: they do not count."; empty when it spoilt none. */
export const spoiltInWords = ({ spoilt, worst_late_s, dropped, lost }: RigOfRun): string => {
  if (spoilt === 0) return "";
  const how = [
    ...(worst_late_s >= 0.025 ? [`late by up to ${Math.round(worst_late_s * 1000)} ms`] : []),
    ...(dropped > 0 ? [`${counted(dropped, "frame")} not sent`] : []),
    ...(lost > 0 ? [`the DMX line lost ${lost === 1 ? "once" : `${lost} times`}`] : []),
  ];
  return `The rig itself spoilt ${[counted(spoilt, "attempt"), ...how].join(", ")}: ${spoilt === 1 ? "it does" : "they do"} not count.`;
};

const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? "" : "s"}`;
