import { aboutBands } from "./bands.ts";
import type { ProfileRule } from "./rule.ts";

/** Positions round the clock without their angles. */
export const indexWithoutAngle: ProfileRule = {
  name: "index-without-angle",
  why: "Without its angles nobody can say whether a gobo stands at its commanded angle.",
  find: (read) =>
    aboutBands(read, "index", ({ range }) =>
      range
        ? undefined
        : { message: "index without its angles", instead: "from_deg: 0, to_deg: 360, the angles at both ends" },
    ),
};
