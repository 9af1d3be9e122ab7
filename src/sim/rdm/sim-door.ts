import type { RdmDoor } from "../../run/ports.ts";
import { chanceFrom } from "../chance.ts";
import { Cable } from "./cable.ts";
import type { Device } from "./device.ts";

/**
 * The simulated line's answer to questions: simulated fixtures answer at once, unless their mains is off. `seed` is any
 * whole number, for what two answers at once leave of each other.
 */
export const simRdmDoor = (devices: readonly Device[], seed = 1): RdmDoor => {
  const cable = new Cable(devices, chanceFrom(seed));
  return {
    name: "sim",
    open: async () => {},
    exchange: async ({ packet, answered }) => {
      const bytes = cable.send(packet);
      return answered === "by-nobody" || bytes === undefined ? { kind: "nothing" } : { kind: "bytes", bytes };
    },
    searched: { kind: "by-us" },
    close: async () => {},
  };
};
