import { functionsOf } from "./kinds.ts";
import type { ProfileRule } from "./rule.ts";

/** Two positions of a wheel with one name. */
export const positionNamesAlike: ProfileRule = {
  name: "position-names-alike",
  why: "Nobody can say whether the wheel stands at the one or at the other.",
  find: (read) =>
    functionsOf(read, "wheel").flatMap(([id, { positions }]) =>
      positions.flatMap(({ is }, index) => {
        const first = positions.findIndex((other) => other.is.toLowerCase() === is.toLowerCase());
        return first === index
          ? []
          : [
              {
                path: ["functions", id, "positions", index, "is"],
                message: `a second position called "${is}"`,
                instead: `"${is} 2", or what is really there`,
              },
            ];
      }),
    ),
};
