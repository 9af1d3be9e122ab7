import type { Device, DeviceReport } from "./device.ts";

/** What a device says to a question or command: data bytes, or why not. */
export type Said = readonly number[] | { readonly refuse: number };

interface ParameterEntry {
  readonly get?: (device: Device, data: readonly number[]) => Said;
  readonly set?: (device: Device, data: readonly number[]) => Said;
}

const BAD_FORM = { refuse: 1 } as const;
const OUT_OF_RANGE = { refuse: 6 } as const;
export const UNKNOWN = { refuse: 0 } as const;
export const NOT_THIS_WAY = { refuse: 5 } as const;

const two = (value: number) => [(value >>> 8) & 255, value & 255];
const four = (value: number) => [(value >>> 24) & 255, (value >>> 16) & 255, (value >>> 8) & 255, value & 255];
const letters = (text: string) => [...text].slice(0, 32).map((letter) => letter.charCodeAt(0) & 255);
const number = (bytes: readonly number[]) => bytes.reduce((sum, byte) => sum * 256 + byte, 0);
const says = (bytes: (device: Device) => readonly number[]): ParameterEntry => ({ get: (device) => bytes(device) });

const label: ParameterEntry = {
  get: ({ label: text }) => letters(text),
  set: (device, data) => {
    if (data.length > 32) return BAD_FORM;
    device.label = String.fromCharCode(...data);
    return [];
  },
};

const counter = (name: keyof Device["counters"]): ParameterEntry => ({
  get: ({ counters }) => four(counters[name]),
  set: ({ counters }, data) => {
    if (data.length !== 4) return BAD_FORM;
    counters[name] = number(data);
    return [];
  },
});

const switched = (name: keyof Device["switches"], most: number): ParameterEntry => ({
  get: ({ switches }) => [switches[name]],
  set: ({ switches }, [value, ...more]) => {
    if (value === undefined || more.length > 0) return BAD_FORM;
    if (value > most) return OUT_OF_RANGE;
    switches[name] = value;
    return [];
  },
});

const info = (device: Device) => [
  ...[1, 0],
  ...two(device.model),
  ...[1, 2],
  ...four(0x01020304),
  ...two(slotsOf(device)),
  ...[device.mode, device.modes.length],
  ...two(slotsOf(device) === 0 ? 0xffff : device.address),
  ...[0, 0],
  device.sensors.length,
];

const slotsOf = ({ modes, mode }: Device) => modes[mode - 1]?.slots ?? 0;

const address: ParameterEntry = {
  get: (device) => two(device.address),
  set: (device, data) => {
    if (data.length !== 2) return BAD_FORM;
    const wanted = number(data);
    if (wanted < 1 || wanted > 512) return OUT_OF_RANGE;
    device.address = wanted;
    return [];
  },
};

const mode: ParameterEntry = {
  get: (device) => [device.mode, device.modes.length],
  set: (device, [wanted = 0]) => {
    if (wanted < 1 || wanted > device.modes.length) return OUT_OF_RANGE;
    device.mode = wanted;
    return [];
  },
};

const modeDescription: ParameterEntry = {
  get: ({ modes }, [wanted = 0]) => {
    const one = modes[wanted - 1];
    return one ? [wanted, ...two(one.slots), ...letters(one.name)] : OUT_OF_RANGE;
  },
};

const sensorDefinition: ParameterEntry = {
  get: ({ sensors }, [wanted = 255]) => {
    const one = sensors[wanted];
    if (!one) return OUT_OF_RANGE;
    const numbers = [...one.range, ...one.normal].flatMap(two);
    return [wanted, one.type, one.unit, one.prefix, ...numbers, 2, ...letters(one.name)];
  },
};

const sensorValue: ParameterEntry = {
  get: ({ sensors }, [wanted = 255]) => {
    const one = sensors[wanted];
    if (!one) return OUT_OF_RANGE;
    const now = one.read();
    one.lowest = Math.min(one.lowest, now);
    one.highest = Math.max(one.highest, now);
    return [wanted, ...[now, one.lowest, one.highest, 0].flatMap(two)];
  },
  set: ({ sensors }, [wanted = 0]) => {
    for (const one of wanted === 255 ? sensors : sensors.slice(wanted, wanted + 1)) {
      one.lowest = one.read();
      one.highest = one.read();
    }
    return [];
  },
};

/** At most 25 lines of 9 bytes fit in one answer. */
const status: ParameterEntry = {
  get: ({ status: reports }, [least = 0]) =>
    reports
      .filter(({ type }) => type >= Math.max(2, least))
      .slice(0, 25)
      .flatMap(reportBytes),
};
const reportBytes = ({ type, id, data }: DeviceReport) => [0, 0, type, ...two(id), ...two(data[0]), ...two(data[1])];

const selfTest: ParameterEntry = {
  /** Over by the second look. */
  get: (device) => {
    const running = device.testing === 0 ? 0 : 1;
    device.testing = 0;
    return [running];
  },
  set: (device, [wanted = 0]) => {
    if (wanted !== 0 && wanted !== 255 && wanted > device.selfTests.length) return OUT_OF_RANGE;
    device.testing = wanted;
    return [];
  },
};

const selfTestDescription: ParameterEntry = {
  get: ({ selfTests }, [wanted = 0]) => {
    const name = selfTests[wanted - 1];
    return name === undefined ? OUT_OF_RANGE : [wanted, ...letters(name)];
  },
};

/** The secondary slots name the slot they belong to where the primary ones name what they do. */
const slotInfo = ({ slots }: Device) => slots.flatMap(({ type, label: does }, at) => [...two(at), type, ...two(does)]);

/** Two bytes, a number without sign, can be read; no unit, 0 to 65,535, usually 0. */
const ownDescription: ParameterEntry = {
  get: ({ own }, data) => {
    const one = own.get(number(data));
    if (!one) return OUT_OF_RANGE;
    return [...data, 2, 5, 1, 0, 0, 0, ...four(0), ...four(0xffff), ...four(0), ...letters(one.words)];
  },
};

export const PARAMETER_ENTRIES: ReadonlyMap<number, ParameterEntry> = new Map<number, ParameterEntry>([
  [0x0015, { get: () => [0, 0, 0, 0, 0, 0], set: () => [] }],
  [0x0030, status],
  [
    0x0032,
    {
      set: (device) => {
        device.status = [];
        return [];
      },
    },
  ],
  [0x0050, says((device) => listed(device).flatMap(two))],
  [0x0051, ownDescription],
  [0x0060, says(info)],
  [0x0080, says(({ modelName }) => letters(modelName))],
  [0x0081, says(({ maker }) => letters(maker))],
  [0x0082, label],
  [0x00c0, says(({ software }) => letters(software))],
  [0x00d3, says(({ serial }) => [...serial].map((letter) => letter.charCodeAt(0)))],
  [0x00e0, mode],
  [0x00e1, modeDescription],
  [0x00f0, address],
  [0x0120, says(slotInfo)],
  [0x0122, says(({ slots }) => slots.flatMap(({ starts }, at) => [...two(at), starts]))],
  [0x0200, sensorDefinition],
  [0x0201, sensorValue],
  [0x0400, counter("deviceHours")],
  [0x0401, counter("lampHours")],
  [0x0402, counter("lampStrikes")],
  [0x0405, counter("powerCycles")],
  [0x0403, switched("lampState", 4)],
  [0x0404, switched("lampOnMode", 3)],
  [0x0500, switched("displayInvert", 2)],
  [0x0501, switched("displayLevel", 255)],
  [0x0600, switched("panInvert", 1)],
  [0x0601, switched("tiltInvert", 1)],
  [0x0602, switched("panTiltSwap", 1)],
  [
    0x1000,
    {
      get: ({ identify }) => [identify ? 1 : 0],
      set: (device, [wanted]) => {
        if (wanted !== 0 && wanted !== 1) return OUT_OF_RANGE;
        device.identify = wanted === 1;
        return [];
      },
    },
  ],
  [0x1001, { set: () => [] }],
  [0x1010, switched("power", 255)],
  [0x1020, selfTest],
  [0x1021, selfTestDescription],
  [0x1044, switched("testAtPowerOn", 1)],
]);

/** All but those that every fixture has. */
const ALWAYS = [0x0050, 0x0060, 0x00c0, 0x00f0, 0x1000];
const listed = ({ lacks, own }: Device) => [
  ...[...PARAMETER_ENTRIES.keys()].filter((pid) => !ALWAYS.includes(pid) && !lacks.has(pid)),
  ...own.keys(),
];

/**
 * A parameter of the maker's own, which can only be read; undefined where the device has none of this number. `pid`
 * is its 16-bit number, 0x8000 to 0xFFDF.
 */
export const ownEntry = ({ own }: Device, pid: number): ParameterEntry | undefined => {
  const one = own.get(pid);
  return one && { get: () => two(one.value) };
};
