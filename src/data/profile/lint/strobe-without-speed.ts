import { aboutBands } from "./bands.ts";
import type { ProfileRule } from "./rule.ts";

/** A strobe of which nobody says how fast it is. */
export const strobeWithoutSpeed: ProfileRule = {
  name: "strobe-without-speed",
  why: "Only with its flashes a second known can a strobe be kept at or under three in view.",
  find: (read) =>
    aboutBands(read, "strobe", ({ range }) =>
      range
        ? undefined
        : { message: "strobe without its speed", instead: "from_hz: 0.5, to_hz: 15, flashes a second at both ends" },
    ),
};
