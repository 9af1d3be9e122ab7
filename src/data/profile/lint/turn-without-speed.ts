import { aboutBands } from "./bands.ts";
import type { ProfileRule } from "./rule.ts";

/** A rotation of which nobody says how fast and which way it is. */
export const turnWithoutSpeed: ProfileRule = {
  name: "turn-without-speed",
  why: "Without its speeds the slow turn that shows a wobble may be a fast one.",
  find: (read) =>
    aboutBands(read, "turn", ({ range }) =>
      range
        ? undefined
        : {
            message: "turn without its speeds",
            instead: "from_rpm: 60, to_rpm: 1, turns a minute at both ends, the other way round with a minus",
          },
    ),
};
