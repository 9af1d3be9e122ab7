import type { FunctionId } from "../../domain/trade/functions.ts";
import { between } from "../chance.ts";
import type { PhysicalFault } from "./fault.ts";

const EMITTERS: readonly FunctionId[] = ["ColorAdd_R", "ColorAdd_G", "ColorAdd_B", "ColorAdd_W"];

const lampTired: PhysicalFault = {
  id: "lamp-run-out",
  words: "lamp long past its hours",
  on: [],
  aside: false,
  troubles: (build, chance) => {
    if (build.source.kind !== "lamp") return undefined;
    const left = between(chance, 0.5, 0.7);
    return [
      {
        kind: "source",
        gives: ({ chance: draw }) => left * (draw() < 0.03 ? 0.7 : 1),
        strikes: ({ chance: draw }) => draw() < 0.35,
      },
    ];
  },
};

const ballastFaint: PhysicalFault = {
  id: "ballast-faint",
  words: "ballast no longer holds the arc",
  on: [],
  aside: true,
  troubles: (build, chance) => {
    if (build.source.kind !== "lamp") return undefined;
    const after = between(chance, 60, 200);
    return [
      {
        kind: "source",
        strikes: ({ chance: draw }) => draw() < 0.5,
        drops: ({ lit_s, chance: draw }) => lit_s > after && draw() < 0.002,
      },
    ];
  },
};

const ledAged: PhysicalFault = {
  id: "led-aged",
  words: "light-emitting diodes aged by heat",
  on: [],
  aside: false,
  troubles: (build, chance) => {
    if (build.source.kind !== "led") return undefined;
    const left = between(chance, 0.5, 0.7);
    return [{ kind: "source", gives: () => left }];
  },
};

const stringOpen: PhysicalFault = {
  id: "led-string-open",
  words: "one string of light-emitting diodes open",
  on: [],
  aside: true,
  troubles: (build, chance) => {
    if (build.source.kind !== "led") return undefined;
    const own = EMITTERS.filter((id) => build.parts.some((part) => part.function === id));
    const emitter = own[Math.floor(chance() * own.length)];
    if (emitter) return [{ kind: "source", emitter }];
    return [{ kind: "optics", spoils: () => ({ dim: 0.25, shadow: 0.35 }) }];
  },
};

const film = (
  id: string,
  words: string,
  aside: boolean,
  bad: { readonly veil: number; readonly tint: number; readonly dim: number },
): PhysicalFault => ({
  id,
  words,
  on: [],
  aside,
  troubles: (_build, chance) => {
    const much = between(chance, 0.8, 1.2);
    return [{ kind: "optics", spoils: () => ({ veil: bad.veil * much, tint: bad.tint * much, dim: bad.dim * much }) }];
  },
});

const chipped: PhysicalFault = {
  id: "front-lens-chipped",
  words: "front lens chipped",
  on: [],
  aside: true,
  troubles: (_build, chance) => {
    const shadow = between(chance, 0.25, 0.5);
    return [{ kind: "optics", spoils: () => ({ shadow }) }];
  },
};

/** What can be wrong with the light and the glass it passes. */
export const LIGHT_FAULTS: readonly PhysicalFault[] = [
  lampTired,
  ballastFaint,
  ledAged,
  stringOpen,
  film("lenses-grimy", "dust and dirt on the lenses", false, { veil: 0.35, tint: 0.1, dim: 0.32 }),
  film("fluid-film-inside", "film of smoke fluid on the inner glass", true, { veil: 0.4, tint: 0.28, dim: 0.15 }),
  chipped,
];
