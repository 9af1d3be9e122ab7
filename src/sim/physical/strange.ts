import { FRAME_SECONDS } from "../../domain/units.ts";
import { between } from "../chance.ts";
import { moverFault, type PhysicalFault } from "./fault.ts";

/**
 * Things that are wrong and stand on nobody's list, each once met by somebody: the right answer to them is that it is
 * something else.
 */
export const STRANGE_FAULTS: readonly PhysicalFault[] = [
  moverFault({
    id: "strange-iris-wanders",
    on: "Iris",
    words: "stray magnet beside the iris motor: it wanders to and fro by itself",
    aside: false,
    hooks: (_build, chance) => {
      const far = between(chance, 0.06, 0.14);
      const hz = between(chance, 0.1, 0.3);
      return { pull: ({ time_s }) => far * Math.sin(2 * Math.PI * hz * time_s) };
    },
  }),
  moverFault({
    id: "strange-pan-other-motor",
    on: "Pan",
    words: "pan motor of another type fitted: strong, quiet, and a fifth too slow",
    aside: false,
    hooks: (_build, chance) => {
      const held = between(chance, 0.58, 0.66);
      return { holdsBack: () => held };
    },
  }),
  moverFault({
    id: "strange-zoom-turns-over",
    on: "Zoom",
    words: "zoom lead swapped in a repair: it goes the right way and jumps to and fro at every start",
    aside: false,
    hooks: (_build, chance) => {
      const far = between(chance, 0.05, 0.1);
      return { pull: ({ speed, way }) => (speed > 0.02 && speed < 0.4 ? -way * far : 0) };
    },
  }),
  {
    id: "strange-moth-inside",
    words: "a dead moth on the inner side of the front lens, it flutters in the air of the fan",
    on: [],
    aside: false,
    troubles: (_build, chance) => {
      const far = between(chance, 0.2, 0.4);
      return [
        {
          kind: "optics",
          spoils: ({ time_s }) => ({ shadow: Math.max(0, far * Math.sin(time_s / FRAME_SECONDS / 90)) }),
        },
      ];
    },
  },
  {
    id: "strange-tape-on-fan",
    words: "end of a strip of tape in the air of the fan, ticks only while it is cold",
    on: [],
    aside: false,
    troubles: () => [
      {
        kind: "air",
        fan: ({ warmth }) => ({ loud: warmth < 0.3 ? 0.4 : 0, tick: 0.5, turning: true }),
        smell: () => 0,
      },
    ],
  },
];
