import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { ReadProfile } from "../parse.ts";
import type { ProfileRule } from "./rule.ts";

const CARRIERS: readonly (readonly [FunctionId, FunctionId])[] = [
  ["Gobo1Pos", "Gobo1"],
  ["Gobo2Pos", "Gobo2"],
  ["Prism1Pos", "Prism1"],
];

/** A rotation of something that is not there, or cannot turn. */
export const rotationWithoutCarrier: ProfileRule = {
  name: "rotation-without-carrier",
  why: "A rotation shows only with its gobo or prism in the beam.",
  find: ({ profile }) =>
    CARRIERS.flatMap(([id, carrier]) =>
      !profile.functions.has(id) || carries(profile, carrier)
        ? []
        : [
            {
              path: ["functions", id],
              at: "key" as const,
              message: profile.functions.has(carrier)
                ? `${id} turns what sits on a fixed wheel`
                : `${id} without ${carrier}`,
              instead: profile.functions.has(carrier) ? `${carrier} with wheel: rotating` : `the slot of ${carrier}`,
            },
          ],
    ),
};

const carries = (profile: ReadProfile["profile"], carrier: FunctionId): boolean => {
  const spec = profile.functions.get(carrier);
  return spec !== undefined && !(spec.kind === "wheel" && spec.wheel === "fixed");
};
