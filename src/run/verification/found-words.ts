import { answerInWords, WHEN_NOTHING_MOVES } from "../../data/rack/what-moved.ts";
import type { MendFound } from "./mend.ts";

/** What the answers to "what moved?" come to, for the person who gave them. */
export const foundInWords = (found: MendFound): readonly string[] => {
  switch (found.kind) {
    case "as-told":
      return ["Every function moves what the profile says."];
    case "silent":
      return [
        "Nothing moves at all. Not the profile is to be looked at first:",
        ...WHEN_NOTHING_MOVES.map((look) => `- ${look}`),
      ];
    case "setting":
      return ["Not the profile, but:", `- ${found.words}. Correct that and verify it again.`];
    case "changes":
      return ["What was seen goes with this:"];
    case "unclear":
      return [
        "Not all of this goes together; look at the chart again:",
        ...found.left.map((answer) => `- ${answerInWords(answer)}.`),
        ...(found.changes.length > 0 ? ["The nearest to it:"] : []),
      ];
    default:
      return found satisfies never;
  }
};
