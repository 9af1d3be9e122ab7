import { between } from "../chance.ts";
import type { Menu } from "../menu.ts";
import type { PhysicalFault } from "./fault.ts";

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
  set("menu-axes-swapped", "menu: pan and tilt swapped", true, ["Pan", "Tilt"], (menu) => ({ ...menu, swapped: true })),
  set("menu-other-mode", "menu: the other mode", false, ["Pan", "Tilt"], (menu) => ({ ...menu, mode: "other" })),
  set("menu-range-cut", "menu: travel of pan and tilt cut to two thirds", true, ["Pan", "Tilt"], (menu) => ({
    ...menu,
    range: 2 / 3,
  })),
  addressOff,
];
