/** What a simulated fixture knows of itself. Written from the standard's tables, apart from what the bench makes of them. */
export interface Device {
  /** Six bytes, manufacturer first. */
  readonly uid: readonly number[];
  readonly model: number;
  readonly maker: string;
  readonly modelName: string;
  readonly software: string;
  readonly serial: string;
  label: string;
  /** 1 to 512. */
  address: number;
  /** Counts from 1. */
  mode: number;
  readonly modes: readonly { readonly name: string; readonly slots: number }[];
  /** What each slot of the current mode does, by the standard's numbers: type and label. */
  readonly slots: readonly { readonly type: number; readonly label: number; readonly starts: number }[];
  readonly counters: Record<"deviceHours" | "lampHours" | "lampStrikes" | "powerCycles", number>;
  readonly switches: Record<
    | "panInvert"
    | "tiltInvert"
    | "panTiltSwap"
    | "displayInvert"
    | "displayLevel"
    | "lampState"
    | "lampOnMode"
    | "power"
    | "testAtPowerOn",
    number
  >;
  readonly sensors: readonly Sensor[];
  /** What it reports until that is cleared. */
  status: readonly DeviceReport[];
  readonly selfTests: readonly string[];
  identify: boolean;
  /** Number of the self-test that runs; 0 for none. */
  testing: number;
  /** What only its maker knows, by number: how it calls it, and a value of two bytes. */
  readonly own: ReadonlyMap<number, { readonly words: string; readonly value: number }>;
  /** Parameters that it answers late, each with the tenths of a second that it takes. */
  readonly slow: ReadonlyMap<number, number>;
  /** Parameters it does not know. */
  readonly lacks: ReadonlySet<number>;
  readonly kind: "fixture" | "proxy" | "proxied";
  /** Without mains it hears nothing and says nothing. */
  readonly powered: boolean;
}

export interface Sensor {
  readonly name: string;
  readonly type: number;
  readonly unit: number;
  readonly prefix: number;
  readonly range: readonly [number, number];
  readonly normal: readonly [number, number];
  /** The value now, in the sensor's unit. */
  read(): number;
  lowest: number;
  highest: number;
}

export interface DeviceReport {
  readonly type: 2 | 3 | 4;
  readonly id: number;
  readonly data: readonly [number, number];
}

/** A sensor that shows one value until somebody sets another. `value` is in the sensor's own unit. */
export const steadySensor = (
  of: Omit<Sensor, "read" | "lowest" | "highest">,
  value: number,
): Sensor & { value: number } => ({
  ...of,
  value,
  lowest: value,
  highest: value,
  read() {
    return this.value;
  },
});

/**
 * A common fixture with discharge lamp, to be changed where a case needs it. `uid` is its UID as six bytes,
 * highest first. All names are invented.
 */
export const plainDevice = (uid: readonly number[], changes: Partial<Device> = {}): Device => ({
  uid,
  model: 0x1234,
  maker: "Bench Prototypes",
  modelName: "Spot Sixteen",
  software: "1.2.3",
  serial: `SN${uid.map((byte) => byte.toString(16).padStart(2, "0")).join("")}`,
  label: "",
  address: 1,
  mode: 1,
  modes: [
    { name: "Standard", slots: 24 },
    { name: "Extended", slots: 32 },
  ],
  slots: [],
  counters: { deviceHours: 1520, lampHours: 310, lampStrikes: 96, powerCycles: 204 },
  switches: {
    panInvert: 0,
    tiltInvert: 0,
    panTiltSwap: 0,
    displayInvert: 0,
    displayLevel: 255,
    lampState: 1,
    lampOnMode: 1,
    power: 0xff,
    testAtPowerOn: 0,
  },
  sensors: [
    steadySensor({ name: "Head", type: 0, unit: 1, prefix: 0, range: [-20, 120], normal: [5, 85] }, 48),
    steadySensor({ name: "Head fan", type: 0x15, unit: 0x23, prefix: 0, range: [0, 6000], normal: [1800, 4200] }, 2900),
    steadySensor({ name: "Motor supply", type: 1, unit: 2, prefix: 0, range: [0, 60], normal: [34, 38] }, 36),
  ],
  status: [],
  selfTests: ["Pan and tilt", "Wheels"],
  identify: false,
  testing: 0,
  own: new Map(),
  slow: new Map(),
  lacks: new Set(),
  kind: "fixture",
  powered: true,
  ...changes,
});

/** The six bytes, highest first, of a UID as it is written: "7FF0:00000002". */
export const uidOf = (text: string): readonly number[] =>
  (text.replace(":", "").match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16));
