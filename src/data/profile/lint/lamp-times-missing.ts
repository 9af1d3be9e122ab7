import type { ProfileRule } from "./rule.ts";

/** A discharge lamp that would be there at once. */
export const lampTimesMissing: ProfileRule = {
  name: "lamp-times-missing",
  why: "Light and colour are judged only when the lamp is warm, and a hot lamp must cool before it strikes again.",
  find: ({ written: { lamp } }) =>
    (["strike_s", "warm_s", "restrike_s"] as const).flatMap((key) =>
      lamp.kind === "discharge" && lamp[key] === 0
        ? [
            {
              path: ["lamp", key],
              message: "a discharge lamp takes its time",
              instead: `${key}: ${USUAL[key]}, or as the lamp's maker says`,
            },
          ]
        : [],
    ),
};

const USUAL = { strike_s: 6, warm_s: 150, restrike_s: 480 } as const;
