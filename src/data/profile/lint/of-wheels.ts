import type { FunctionId } from "../../../domain/trade/functions.ts";
import type { WheelKind } from "../../../domain/trade/mechanisms.ts";
import type { ReadProfile } from "../parse.ts";
import { functionsOfKind, type ProfileRule } from "./rule.ts";

/** What carries a function, as its GDTF attribute says (DIN SPEC 15800). */
const CARRIED_BY: Partial<Record<FunctionId, readonly WheelKind[]>> = {
  Color1: ["colour"],
  Color2: ["colour"],
  Gobo1: ["fixed", "rotating"],
  Gobo2: ["fixed", "rotating"],
  AnimationWheel1: ["effect"],
};

/** A wheel of a kind that does not carry this. */
export const wheelKindOdd: ProfileRule = {
  name: "wheel-kind-odd",
  why: "Faults are looked for in the wheel that the profile names: here in the wrong one.",
  find: (read) =>
    functionsOfKind(read, "wheel").flatMap(([id, { wheel }]) => {
      const kinds = CARRIED_BY[id] ?? [wheel];
      return kinds.includes(wheel)
        ? []
        : [
            {
              path: ["functions", id, "wheel"],
              message: `${id} on a wheel of the kind "${wheel}"`,
              instead: `wheel: ${kinds.join(" or ")}`,
            },
          ];
    }),
};

/** A wheel without a position called "open". */
export const wheelWithoutOpen: ProfileRule = {
  name: "wheel-without-open",
  why: "Everything else is judged with the wheels open: some colour or gobo would stand in the beam all the time.",
  find: (read) =>
    functionsOfKind(read, "wheel").flatMap(([id, { positions }]) =>
      positions.some(({ is }) => is === "open")
        ? []
        : [
            {
              path: ["functions", id, "positions", 0],
              message: 'no position of this wheel is "open"',
              instead: `is: open, for the one that leaves the light as it is (here "${positions[0]?.is}"?)`,
            },
          ],
    ),
};

/** A wheel of which nobody says where it stands at level 0. */
export const firstPositionLate: ProfileRule = {
  name: "first-position-late",
  why: "A position begins at its level and lasts until the next: what stands below the first is not known.",
  find: (read) =>
    functionsOfKind(read, "wheel").flatMap(([id, { positions }]) => {
      const first = positions[0]?.at ?? 0;
      return first === 0
        ? []
        : [
            {
              path: ["functions", id, "positions", 0, "at"],
              message: `the first position begins at ${first}, not at 0`,
              instead: "at: 0, the level where a position begins, not its middle",
            },
          ];
    }),
};

/** One position that is not where the others would have it: a slip in one number of the chart. */
export const positionsUneven: ProfileRule = {
  name: "positions-uneven",
  why: "A wheel that is sent a few levels off its position may show two pictures, or the one before.",
  find: (read) =>
    functionsOfKind(read, "wheel").flatMap(([id, { positions }]) =>
      slipsIn(positions.map(({ at }) => at)).map(({ index, right }) => ({
        path: ["functions", id, "positions", index, "at"],
        message: `${positions[index]?.at} is not as far from its neighbours as all others are`,
        instead: `at: ${right}`,
      })),
    ),
};

/** Both ways beside it differ from the usual one and together make two of them. */
const slipsIn = (levels: readonly number[]): readonly { readonly index: number; readonly right: number }[] => {
  const ways = levels.slice(1).map((level, index) => level - (levels[index] ?? 0));
  const usual = commonest(ways);
  if (usual === undefined) return [];
  return ways.flatMap((way, index) => {
    const next = ways[index + 1];
    return next !== undefined && way !== usual && way + next === 2 * usual
      ? [{ index: index + 1, right: (levels[index] ?? 0) + usual }]
      : [];
  });
};

/** The way that at least half of all take; undefined where there is no usual one. */
const commonest = (ways: readonly number[]): number | undefined =>
  ways.find((way) => ways.length > 2 && ways.filter((other) => other === way).length * 2 >= ways.length);

/** Two positions of a wheel with one name. */
export const positionNamesAlike: ProfileRule = {
  name: "position-names-alike",
  why: "Nobody can say whether the wheel stands at the one or at the other.",
  find: (read) =>
    functionsOfKind(read, "wheel").flatMap(([id, { positions }]) =>
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
