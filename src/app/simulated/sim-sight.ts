import type { Spectacle } from "../../run/ports.ts";
import type { SimLine } from "../../sim/line.ts";
import { spectacleOf } from "../../sim/spectacle.ts";

/** What the simulated fixture shows just now, for the screen of a person; asked as often as it is drawn. */
export const sightOf = (line: SimLine): (() => Spectacle) => {
  let last: (() => Spectacle) | undefined;
  line.scenes(([first]) => {
    if (first) last = () => spectacleOf(first.scene);
  });
  return () => last?.() ?? NOTHING_YET;
};

const NOTHING_YET: Spectacle = { parts: [], sounds: [], light: "dark", display: "" };
