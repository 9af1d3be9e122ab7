import { planOf } from "../plan.ts";
import type { SequenceRule } from "./rule.ts";

/** Watchfulness falls within about so long (Mackworth 1948, secondary). */
const LONGEST_MIN = 30;

/** More minutes with eyes on the fixture than anybody can watch. */
export const watchedTooLong: SequenceRule = {
  name: "watched-too-long",
  why: "After half an hour people miss what they would have seen at the beginning.",
  find: ({ timelines }) => {
    const longest = timelines
      .map((timeline) => ({ title: timeline.profile.title, minutes: Math.round(planOf(timeline).watched / 60) }))
      .reduce((a, b) => (b.minutes > a.minutes ? b : a), { title: "", minutes: 0 });
    return longest.minutes <= LONGEST_MIN
      ? []
      : [
          {
            path: ["steps"],
            message: `${longest.minutes} minutes to be watched (${longest.title})`,
            instead: "two sequences with a rest between them, or fewer passes",
          },
        ];
  },
};
