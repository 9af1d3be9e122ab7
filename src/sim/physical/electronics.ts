import { AXIS_FUNCTIONS, type FunctionId } from "../../domain/trade/functions.ts";
import { FRAMES_PER_SECOND } from "../../domain/units.ts";
import type { FixtureBuild, Menu } from "../build.ts";
import { between } from "../chance.ts";
import type { FrameMoment } from "../moment.ts";
import type { PartTrouble } from "../trouble.ts";
import type { PhysicalFault } from "./fault.ts";

const supplySags: PhysicalFault = {
  id: "supply-sags",
  words: "low-voltage supply sags under load",
  on: [],
  aside: false,
  troubles: (_build, chance) => {
    const hazard = between(chance, 0.01, 0.03);
    return [
      {
        kind: "supply",
        resets: ({ busy, lit_s, chance: draw }) =>
          (busy >= 3 && draw() < hazard) || (lit_s > 0.02 && lit_s < 0.06 && draw() < 0.3),
      },
    ];
  },
};

/** Small motors of the head are driven by one board. */
const onBoard = (build: FixtureBuild): readonly FunctionId[] =>
  build.parts.map((part) => part.function).filter((id) => id !== "Pan" && id !== "Tilt" && id !== "Dimmer");

/** For as long as contact is lost the board is dead, and a shutter falls shut by its spring. */
const boardOut = (build: FixtureBuild, out: (moment: FrameMoment) => boolean): readonly PartTrouble[] =>
  onBoard(build).map((id) => ({
    kind: "mover",
    function: id,
    drive: (moment) => (out(moment) ? "dead" : "alive"),
    pull: (stance) => (id.startsWith("Shutter") && out(stance) ? 1 - stance.at : 0),
  }));

const plugLoose: PhysicalFault = {
  id: "head-plug-half-out",
  words: "plug of the head board half out, loses contact when shaken",
  on: ["Pan"],
  aside: false,
  troubles: (build, chance) => {
    const hazard = between(chance, 0.05, 0.12);
    let until = -1;
    let asked = -1;
    const out = ({ frame, jolt, chance: draw }: FrameMoment) => {
      const struck = frame !== asked && jolt > 0.6 && frame > until && draw() < hazard;
      asked = frame;
      if (struck) until = frame + between(draw, 0.4, 2) * FRAMES_PER_SECOND;
      return frame < until;
    };
    return boardOut(build, out);
  },
};

const loomTired: PhysicalFault = {
  id: "loom-nearly-through",
  words: "a conductor of the loom broken inside, opens at one end of pan",
  on: AXIS_FUNCTIONS,
  aside: true,
  troubles: (build, chance) => {
    const beyond = between(chance, 170, 230) * (chance() < 0.5 ? -1 : 1);
    const out = ({ pan_deg, homing }: FrameMoment) => !homing && (beyond > 0 ? pan_deg > beyond : pan_deg < beyond);
    return [...boardOut(build, out), { kind: "mover", function: "Tilt", drive: (m) => (out(m) ? "dead" : "alive") }];
  },
};

const socketBent: PhysicalFault = {
  id: "input-pins-loose",
  words: "pins of the data input loose, frames go missing",
  on: [],
  aside: true,
  troubles: (_build, chance) => {
    const hazard = between(chance, 0.004, 0.01);
    let until = -1;
    const loses = ({ frame, chance: draw }: FrameMoment) => {
      if (frame >= until && draw() < hazard) until = frame + between(draw, 0.3, 1.2) * FRAMES_PER_SECOND;
      return frame < until;
    };
    return [{ kind: "data", loses }];
  },
};

const fanWorn: PhysicalFault = {
  id: "fan-bearing-worn",
  words: "fan bearing worn",
  on: [],
  aside: false,
  troubles: (_build, chance) => {
    const loud = between(chance, 0.4, 0.8);
    return [{ kind: "air", fan: () => ({ loud, tick: 0.3, turning: true }) }];
  },
};

/** Little air comes through: it runs hotter and louder until a thermal switch opens. */
const filterFelted: PhysicalFault = {
  id: "filter-felted",
  words: "air filter felted over",
  on: [],
  aside: true,
  troubles: (_build, chance) => {
    const opens = between(chance, 0.82, 0.92);
    return [
      {
        kind: "air",
        fan: ({ warmth }) => ({ loud: warmth > 0.3 ? 0.5 : 0.1, tick: 0, turning: true }),
        smell: ({ warmth }) => (warmth > opens - 0.05 ? 0.5 : 0),
        hotter: ({ warmth }) => 45 * warmth,
      },
      { kind: "source", drops: ({ warmth }) => warmth > opens, strikes: ({ warmth }) => warmth < opens - 0.15 },
    ];
  },
};

/** What can be wrong with supply, wiring, data and air. */
export const ELECTRONIC_FAULTS: readonly PhysicalFault[] = [
  supplySags,
  plugLoose,
  loomTired,
  socketBent,
  fanWorn,
  filterFelted,
];

const set = (
  id: string,
  words: string,
  aside: boolean,
  on: PhysicalFault["on"],
  change: (menu: Menu) => Menu,
): PhysicalFault => ({ id, words, aside, on, troubles: () => [{ kind: "settings", change }] });

const addressOff: PhysicalFault = {
  id: "address-off",
  words: "start address set wrong",
  on: [],
  aside: true,
  troubles: (_build, chance) => {
    const by = Math.round(between(chance, 1, 6));
    return [{ kind: "settings", change: (menu) => ({ ...menu, address: menu.address + by }) }];
  },
};

/** Nothing broken: the last user's menu. */
export const SETTING_FAULTS: readonly PhysicalFault[] = [
  set("menu-pan-reversed", "menu: pan reversed", false, ["Pan"], (menu) => ({ ...menu, panInverted: true })),
  set("menu-tilt-reversed", "menu: tilt reversed", true, ["Tilt"], (menu) => ({ ...menu, tiltInverted: true })),
  set("menu-axes-swapped", "menu: pan and tilt swapped", true, AXIS_FUNCTIONS, (menu) => ({ ...menu, swapped: true })),
  set("menu-other-mode", "menu: the other mode", false, AXIS_FUNCTIONS, (menu) => ({ ...menu, mode: "other" })),
  set("menu-range-cut", "menu: travel of pan and tilt cut to two thirds", true, AXIS_FUNCTIONS, (menu) => ({
    ...menu,
    range: 2 / 3,
  })),
  addressOff,
];
