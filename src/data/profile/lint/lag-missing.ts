import { axesOf, says } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** A pan or tilt of which nobody says how late it follows. */
export const lagMissing: ProfileRule = {
  name: "lag-missing",
  why: "A press is put back by the lag to find the place: a tenth of a second is many degrees at full speed.",
  find: (read) =>
    axesOf(read).flatMap(([id]) =>
      says(read, id, "lag_s")
        ? []
        : [
            {
              path: ["functions", id],
              at: "key" as const,
              message: `${id} does not say how late it follows`,
              instead: "lag_s: 0.3, or what limber profile verify measures",
            },
          ],
    ),
};
