import type { Profile } from "../../data/profile/profile.ts";
import { seedFor } from "../../sim/chance.ts";
import type { SimLine } from "../../sim/line.ts";
import type { Device } from "../../sim/rdm/device.ts";
import { deviceIn } from "../../sim/rdm/fixture-device.ts";

/**
 * What a simulated fixture of this kind answers over the cable. Its hours are drawn from its serial number. `place` is
 * its index on the simulated line, from 0.
 */
export const simulatedDevice = (line: SimLine, place: number, serial: string, profile: Profile): Device => {
  const drawn = seedFor(1, serial);
  return deviceIn(
    () => line.fixtureAt(place),
    { set: (change) => line.setMenu(place, change), testItself: () => line.testItself(place) },
    {
      uid: simulatedUid(serial),
      model: seedFor(1, profile.fixture ?? profile.name) & 0x7fff,
      modelName: (profile.fixture ?? profile.name).slice(0, 32),
      serial,
      label: "",
      modes: ["Mode A", "Mode B"],
      counters: {
        deviceHours: 400 + (drawn % 6000),
        lampHours: 20 + ((drawn >>> 4) % 700),
        lampStrikes: 15 + ((drawn >>> 8) % 400),
        powerCycles: 60 + ((drawn >>> 12) % 900),
      },
    },
  );
};

/** The UID of a simulated fixture: under a manufacturer number that is kept for prototypes, and the same for the same serial number. */
const simulatedUid = (serial: string): readonly number[] => {
  const device = seedFor(1, `uid of ${serial}`) & 0x7fff_ffff;
  return [0x7f, 0xf1, (device >>> 24) & 255, (device >>> 16) & 255, (device >>> 8) & 255, device & 255];
};
