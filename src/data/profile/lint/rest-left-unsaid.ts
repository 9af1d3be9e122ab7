import type { ProfileRule } from "./rule.ts";

/** What shuts the beam, left to what is usual. */
export const restLeftUnsaid: ProfileRule = {
  name: "rest-left-unsaid",
  why: "The dark state is the one thing that whoever reads a profile must not have to guess.",
  find: ({ profile, written }) =>
    (["Shutter1", "Dimmer"] as const).flatMap((id) =>
      !profile.functions.has(id) || written.rest[id] !== undefined
        ? []
        : [
            {
              path: ["rest"],
              at: "key" as const,
              message: `rest does not name ${id}`,
              instead: id === "Shutter1" ? "Shutter1: closed" : "Dimmer: 0",
            },
          ],
    ),
};
