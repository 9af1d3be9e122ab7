import type { FunctionId } from "../../domain/trade/functions.ts";
import { type Menu, type PartBuild, slotsUnder } from "../build.ts";
import type { Fixture } from "../fixture.ts";
import { type Device, type DeviceReport, plainDevice, type Sensor, steadySensor } from "./device.ts";

/** What stands on a simulated fixture's plate, and what it has counted so far. */
export interface Plate {
  readonly uid: readonly number[];
  readonly model: number;
  readonly modelName: string;
  readonly serial: string;
  readonly label: string;
  /** The names of its own mode and of the other one. */
  readonly modes: readonly [string, string];
  readonly counters: Device["counters"];
}

/** What it can do to itself when it is told to over the cable. */
interface PanelHands {
  readonly set: (change: (menu: Menu) => Menu) => void;
  readonly testItself: () => void;
}

/**
 * What a simulated fixture says of itself: it knows its settings, what it measures, and what did not find its home. What
 * it does not measure it takes for good.
 */
export const deviceIn = (fixture: () => Fixture | undefined, { set, testItself }: PanelHands, plate: Plate): Device => {
  const menu = (): Menu | undefined => fixture()?.menu;
  const change = <K extends keyof Menu>(key: K, value: Menu[K]) => set((now) => ({ ...now, [key]: value }));
  const { modes, ...rest } = plate;
  const base = plainDevice(plate.uid, rest);
  const slots = () => slotsOf(fixture());
  let cleared: readonly number[] = [];
  return {
    ...base,
    modes: modes.map((name, index) => ({ name, slots: footprint(fixture(), index === 0 ? "own" : "other") })),
    sensors: sensorsOf(fixture),
    switches: switchesOf(base.switches, menu, change, fixture),
    get powered() {
      return fixture()?.inside.powered ?? false;
    },
    get address() {
      return menu()?.address ?? 1;
    },
    set address(address) {
      change("address", address);
    },
    get mode() {
      return menu()?.mode === "other" ? 2 : 1;
    },
    set mode(mode) {
      change("mode", mode === 2 ? "other" : "own");
    },
    get slots() {
      return slots();
    },
    selfTests: ["All functions find their home"],
    get testing() {
      return fixture()?.inside.homed === false ? 1 : 0;
    },
    set testing(test) {
      // A search for home that has begun is not broken off.
      if (test > 0) testItself();
    },
    get status() {
      return reportsOf(fixture()).filter(({ id }) => !cleared.includes(id));
    },
    set status(_none) {
      cleared = reportsOf(fixture()).map(({ id }) => id);
    },
  };
};

const footprint = (fixture: Fixture | undefined, mode: Menu["mode"]): number => {
  if (!fixture) return 0;
  if (mode === "own") return fixture.build.slots;
  return Math.max(0, ...slotsUnder({ ...fixture.menu, mode, swapped: false }, fixture.build).flat());
};

/** The standard's labels of what a slot does; FFFF where it has none. */
const LABELS: Readonly<Partial<Record<FunctionId, number>>> = {
  Dimmer: 0x0001,
  Pan: 0x0101,
  Tilt: 0x0102,
  Color1: 0x0201,
  Color2: 0x0201,
  ColorSub_C: 0x0202,
  ColorSub_Y: 0x0203,
  ColorSub_M: 0x0204,
  ColorAdd_R: 0x0205,
  ColorAdd_G: 0x0206,
  ColorAdd_B: 0x0207,
  CTO: 0x0208,
  Gobo2: 0x0301,
  Gobo1: 0x0302,
  Prism1: 0x0303,
  AnimationWheel1: 0x0304,
  Iris: 0x0401,
  Focus1: 0x0402,
  Frost1: 0x0403,
  Shutter1: 0x0404,
  Zoom: 0x0405,
  ShaperRot: 0x0406,
  LampControl: 0x0501,
  Control1: 0x0502,
};
const UNDEFINED = 0xffff;

/** Every slot of the mode it is in: coarse ones with what they do, fine ones with where their coarse one is. */
const slotsOf = (fixture: Fixture | undefined): Device["slots"] => {
  if (!fixture) return [];
  const heard = slotsUnder({ ...fixture.menu, swapped: false }, fixture.build);
  const count = footprint(fixture, fixture.menu.mode);
  const slots = Array.from({ length: count }, () => ({ type: 0, label: UNDEFINED, starts: 0 }));
  for (const [index, part] of fixture.build.parts.entries()) {
    const [coarse = 0, ...fine] = heard[index] ?? [];
    slots[coarse - 1] = { type: 0, label: LABELS[part.function] ?? UNDEFINED, starts: 0 };
    for (const one of fine) slots[one - 1] = { type: 1, label: coarse - 1, starts: 0 };
  }
  return slots;
};

const switchesOf = (
  base: Device["switches"],
  menu: () => Menu | undefined,
  change: <K extends keyof Menu>(key: K, value: Menu[K]) => void,
  fixture: () => Fixture | undefined,
): Device["switches"] => ({
  ...base,
  get panInvert() {
    return Number(menu()?.panInverted ?? false);
  },
  set panInvert(value) {
    change("panInverted", value === 1);
  },
  get tiltInvert() {
    return Number(menu()?.tiltInverted ?? false);
  },
  set tiltInvert(value) {
    change("tiltInverted", value === 1);
  },
  get panTiltSwap() {
    return Number(menu()?.swapped ?? false);
  },
  set panTiltSwap(value) {
    change("swapped", value === 1);
  },
  get lampState() {
    return fixture()?.inside.lit ? 1 : 0;
  },
});

const HEAD_LIMIT_C = 85;
const sensorsOf = (fixture: () => Fixture | undefined): readonly Sensor[] => [
  measured(HEAD, () => Math.round(fixture()?.inside.temperature_C ?? 0)),
  measured(FAN, () => (fixture()?.inside.fanTurns ? 2900 : 0)),
  steadySensor(SUPPLY, 36),
];
const HEAD = { name: "Head", type: 0, unit: 1, prefix: 0, range: [-20, 120], normal: [5, HEAD_LIMIT_C] } as const;
const FAN = { name: "Head fan", type: 0x15, unit: 0x23, prefix: 0, range: [0, 6000], normal: [1800, 4200] } as const;
const SUPPLY = { name: "Motor supply", type: 1, unit: 2, prefix: 0, range: [0, 60], normal: [34, 38] } as const;

const measured = (about: Omit<Sensor, "read" | "lowest" | "highest">, read: () => number): Sensor => ({
  ...about,
  read,
  lowest: read(),
  highest: read(),
});

/** What it noticed itself: parts that gave up their search for home, and heat. */
const reportsOf = (fixture: Fixture | undefined): readonly DeviceReport[] => {
  if (!fixture) return [];
  const { lost, temperature_C } = fixture.inside;
  const heard = slotsUnder({ ...fixture.menu, swapped: false }, fixture.build);
  const homeless = lost.map((id): DeviceReport => {
    const index = fixture.build.parts.findIndex((part) => part.function === id);
    return { type: 4, id: missing(fixture.build.parts[index]), data: [(heard[index]?.[0] ?? 1) - 1, 0] };
  });
  const hot = Math.round(temperature_C);
  return hot > HEAD_LIMIT_C ? [...homeless, { type: 4, id: 0x0021, data: [0, hot] }] : homeless;
};

/** An encoded axis fails to calibrate; what searches a mark on its way round misses its index. */
const missing = (part: PartBuild | undefined): number => (part?.kind === "travel" && part.encoded ? 0x0001 : 0x0005);
