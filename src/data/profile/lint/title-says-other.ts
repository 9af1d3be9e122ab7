import type { ProfileRule } from "./rule.ts";

/** A title that speaks of another mode. */
export const titleSaysOther: ProfileRule = {
  name: "title-says-other",
  why: "People choose by the title: a copied one sends them to the wrong mode.",
  find: ({ written: { title, slots } }) => {
    const said = /\b(\d+)[ -]?(?:slots?|channels?|ch)\b/i.exec(title)?.[1];
    return said === undefined || Number(said) === slots
      ? []
      : [
          {
            path: ["title"],
            message: `the title says ${said}, the mode has ${slots} slots`,
            instead: `title: ${title.replace(said, String(slots))}`,
          },
        ];
  },
};
