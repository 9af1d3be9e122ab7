import { type Banded, type FunctionSpec, fullRaw, type Profile, type Travel } from "../../data/profile/profile.ts";
import { type FunctionId, isAxisFunction } from "../../domain/trade/functions.ts";
import type { BuiltBand, FixtureBuild, PartBuild, SpinBand } from "../../sim/build.ts";
import { seedFor } from "../../sim/chance.ts";
import type { SimLine } from "../../sim/line.ts";
import type { Device } from "../../sim/rdm/device.ts";
import { deviceIn } from "../../sim/rdm/fixture-device.ts";

/**
 * The numbers of a profile, as the simulated fixture is built from them: the simulation itself knows no
 * profiles. `startAddress` is 1 to 512.
 */
export const simulatedBuild = (profile: Profile, startAddress: number): FixtureBuild => ({
  startAddress,
  slots: profile.slots,
  homing_s: profile.powerUp,
  source:
    profile.lamp.kind !== "discharge"
      ? { kind: "led" }
      : {
          kind: "lamp",
          strikeDelay_s: profile.lamp.strike,
          warmUp_s: profile.lamp.warm,
          restrike_s: profile.lamp.restrike,
        },
  parts: [...profile.functions].map(([id, spec]) => partOf(id, spec)),
});

const partOf = (id: FunctionId, spec: FunctionSpec): PartBuild => {
  const wired = { function: id, slots: spec.slots };
  switch (spec.kind) {
    case "travel":
      return id === "Dimmer" || id.startsWith("ColorAdd_") ? { kind: "light", ...wired } : travelOf(id, spec);
    case "wheel":
      return { kind: "wheel", ...wired, wheel: spec.wheel, positions: spec.positions, spins: [], step_s: spec.step };
    case "banded":
      return spec.bands.some(({ is }) => is === "turn")
        ? turnOf(id, spec)
        : { kind: "bands", ...wired, bands: spec.bands.flatMap(leafBand) };
    case "commands":
      return {
        kind: "control",
        ...wired,
        commands: spec.commands.map(({ is, at, hold, deaf }) => ({
          is: is === "fans-low" || is === "fans-full" ? "other" : is,
          at,
          hold_s: hold,
          then_s: deaf,
        })),
      };
  }
};

/** Pan and tilt carry encoders and much mass; the small motors in the head do not. */
const travelOf = (id: FunctionId, spec: Travel): PartBuild => {
  const axis = isAxisFunction(id);
  return {
    kind: "travel",
    function: id,
    slots: spec.slots,
    from: spec.from,
    to: spec.to,
    ...(spec.low === 0 && spec.high === fullRaw(spec) ? {} : { raw: [spec.low, spec.high] as const }),
    fullTravel_s: spec.fullTravel,
    acceleration_s: axis ? 0.35 : Math.min(0.08, spec.fullTravel / 4),
    lag_s: spec.lag,
    encoded: axis,
  };
};

const turnOf = (id: FunctionId, spec: Banded): PartBuild => {
  const index = spec.bands.find(({ is }) => is === "index");
  return {
    kind: "turn",
    function: id,
    slots: spec.slots,
    index: index
      ? { from: index.from, to: index.to, from_deg: index.range?.[0] ?? 0, to_deg: index.range?.[1] ?? 360 }
      : undefined,
    rotate: spec.bands.flatMap(({ is, from, to, range }): readonly SpinBand[] =>
      is === "turn" && range ? [{ from, to, from_rpm: range[0], to_rpm: range[1] }] : [],
    ),
  };
};

const leafBand = ({ from, to, is, range }: Banded["bands"][number]): readonly BuiltBand[] => {
  if (is === "closed" || is === "open" || is === "in" || is === "out") return [{ from, to, is }];
  return is === "strobe" && range ? [{ from, to, is, from_hz: range[0], to_hz: range[1] }] : [];
};

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
