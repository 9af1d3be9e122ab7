import type { FunctionId } from "../../domain/trade/functions.ts";
import type { StatusMessage } from "./parameters.ts";

/**
 * What the first number of a status message counts. Of the two messages about a sensor that a part is told by ("sensor-of-part")
 * open implementations read the number of a sensor, and the standard's own text has a slot label (from memory): both are understood.
 */
type About = "slot" | "sensor" | "sensor-of-part" | "phase" | "breaker" | "nothing";

/** A status message that the standard knows. */
export interface StatusKind {
  /** The standard's name, without STS_. */
  readonly name: string;
  readonly words: string;
  readonly about: About;
  /** Unit of the second number. */
  readonly unit: string;
}

const kind = (name: string, words: string, about: About = "nothing", unit = ""): StatusKind => ({
  name,
  words,
  about,
  unit,
});

/** Status message IDs of ANSI E1.20 that may say something of a moving light (secondary). */
export const STATUS_KINDS: ReadonlyMap<number, StatusKind> = new Map([
  [0x0001, kind("CAL_FAIL", "calibration failed", "slot")],
  [0x0002, kind("SENS_NOT_FOUND", "sensor not found", "sensor-of-part")],
  [0x0003, kind("SENS_ALWAYS_ON", "sensor always on", "sensor-of-part")],
  [0x0004, kind("FEEDBACK_ERROR", "feedback error", "slot")],
  [0x0005, kind("INDEX_ERROR", "index error", "slot")],
  [0x0011, kind("LAMP_DOUSED", "lamp went out")],
  [0x0012, kind("LAMP_STRIKE", "lamp failed to strike")],
  [0x0013, kind("LAMP_ACCESS_OPEN", "lamp cover open")],
  [0x0014, kind("LAMP_ALWAYS_ON", "lamp on although it was switched off")],
  [0x0021, kind("OVERTEMP", "too hot", "sensor", "C")],
  [0x0022, kind("UNDERTEMP", "too cold", "sensor", "C")],
  [0x0023, kind("SENS_OUT_RANGE", "sensor out of range", "sensor")],
  [0x0031, kind("OVERVOLTAGE_PHASE", "voltage too high", "phase", "V")],
  [0x0032, kind("UNDERVOLTAGE_PHASE", "voltage too low", "phase", "V")],
  [0x0033, kind("OVERCURRENT", "current too high", "phase", "A")],
  [0x0034, kind("UNDERCURRENT", "current too low", "phase", "A")],
  [0x0035, kind("PHASE", "out of phase", "phase", "degrees")],
  [0x0036, kind("PHASE_ERROR", "phase error", "phase")],
  [0x0037, kind("AMPS", "current", "nothing", "A")],
  [0x0038, kind("VOLTS", "voltage", "nothing", "V")],
  [0x0050, kind("READY", "ready", "slot")],
  [0x0051, kind("NOT_READY", "not ready", "slot")],
  [0x0052, kind("LOW_FLUID", "low fluid", "slot")],
  [0x0060, kind("EEPROM_ERROR", "EEPROM error")],
  [0x0061, kind("RAM_ERROR", "RAM error")],
  [0x0062, kind("FPGA_ERROR", "programming of its logic failed")],
]);

const TYPES: Readonly<Record<number, string>> = {
  2: "advice",
  3: "warning",
  4: "error",
  18: "advice, over",
  19: "warning, over",
  20: "error, over",
};

/** Whether the message says that what happened is over. */
export const isCleared = ({ type }: StatusMessage): boolean => type >= 0x12;

/** One slot of a fixture's mode, as SLOT_INFO says it. */
export interface SlotReading {
  /** Counted from 0. */
  readonly offset: number;
  readonly type: number;
  /** What a primary slot does; of a secondary one the offset of its primary (from memory). */
  readonly label: number;
}

/**
 * A status message in words: "error: index error, slot 9 (rotating gobo)". A message
 * number that is not known is shown as it is.
 */
export const statusText = (
  message: StatusMessage,
  slots: readonly SlotReading[],
  sensors: readonly string[],
): string => {
  const { type, id, data1, data2 } = message;
  const known = STATUS_KINDS.get(id);
  const start = TYPES[type] ?? `type ${type}`;
  if (!known) return `${start}: message ${id.toString(16).toUpperCase().padStart(4, "0")} (${data1}, ${data2})`;
  const where = placeText(known.about, data1, slots, sensors);
  return `${start}: ${known.words}${where}${known.unit === "" ? "" : `, ${data2} ${known.unit}`}`;
};

const placeText = (about: About, data1: number, slots: readonly SlotReading[], sensors: readonly string[]): string => {
  if (about === "sensor-of-part" && sensors[data1] === undefined && SLOT_LABELS.has(data1))
    return `, ${SLOT_LABELS.get(data1)?.words}`;
  if (about === "sensor" || about === "sensor-of-part")
    return `, sensor ${data1}${sensors[data1] === undefined ? "" : ` (${sensors[data1]})`}`;
  if (about === "phase" || about === "breaker") return `, ${about} ${data1}`;
  if (about === "nothing") return "";
  const label = labelOf(data1, slots);
  const words = label === undefined ? undefined : SLOT_LABELS.get(label)?.words;
  return slots.some(({ offset }) => offset === data1)
    ? `, slot ${data1 + 1}${words === undefined ? "" : ` (${words})`}`
    : `, ${words ?? `slot ${data1 + 1}`}`;
};

/** What a slot does, by its number; fixtures that give the label instead of a slot are understood too (from memory: both are in use). */
const labelOf = (data1: number, slots: readonly SlotReading[]): number | undefined => {
  const slot = slots.find(({ offset }) => offset === data1);
  if (!slot) return SLOT_LABELS.has(data1) ? data1 : undefined;
  if (slot.type === PRIMARY) return slot.label;
  return slots.find(({ offset, type }) => offset === slot.label && type === PRIMARY)?.label;
};
const PRIMARY = 0;

/** Slot labels of ANSI E1.20 (secondary), and which of our functions they may be. */
const SLOT_LABELS: ReadonlyMap<number, { readonly words: string; readonly functions: readonly FunctionId[] }> = new Map(
  [
    [0x0001, { words: "intensity", functions: ["Dimmer"] }],
    [0x0002, { words: "intensity master", functions: ["Dimmer"] }],
    [0x0101, { words: "pan", functions: ["Pan"] }],
    [0x0102, { words: "tilt", functions: ["Tilt"] }],
    [0x0201, { words: "colour wheel", functions: ["Color1", "Color2"] }],
    [0x0202, { words: "cyan", functions: ["ColorSub_C"] }],
    [0x0203, { words: "yellow", functions: ["ColorSub_Y"] }],
    [0x0204, { words: "magenta", functions: ["ColorSub_M"] }],
    [0x0205, { words: "red", functions: ["ColorAdd_R"] }],
    [0x0206, { words: "green", functions: ["ColorAdd_G"] }],
    [0x0207, { words: "blue", functions: ["ColorAdd_B"] }],
    [0x0208, { words: "colour correction", functions: ["CTO"] }],
    [0x0301, { words: "static gobo", functions: ["Gobo2"] }],
    [0x0302, { words: "rotating gobo", functions: ["Gobo1", "Gobo1Pos"] }],
    [0x0303, { words: "prism", functions: ["Prism1", "Prism1Pos"] }],
    [0x0304, { words: "effects", functions: ["AnimationWheel1"] }],
    [0x0401, { words: "iris", functions: ["Iris"] }],
    [0x0402, { words: "edge", functions: ["Focus1"] }],
    [0x0403, { words: "frost", functions: ["Frost1"] }],
    [0x0404, { words: "strobe", functions: ["Shutter1"] }],
    [0x0405, { words: "zoom", functions: ["Zoom"] }],
    [0x0406, { words: "framing", functions: ["ShaperRot", "Blade1A"] }],
    [0x0501, { words: "lamp control", functions: ["LampControl"] }],
    [0x0502, { words: "fixture control", functions: ["Control1"] }],
    [0x0503, { words: "fixture speed", functions: [] }],
  ] as const,
);

/** Whether a status message is about one part of the fixture. */
export const isAboutPart = ({ id }: StatusMessage): boolean =>
  ["slot", "sensor-of-part"].includes(STATUS_KINDS.get(id)?.about ?? "");

/** The functions that a status message may be about; none where it is about no part, or does not say of which. */
export const functionsMeant = (
  message: StatusMessage,
  slots: readonly SlotReading[],
  sensors: readonly string[],
): readonly FunctionId[] => {
  const { id, data1 } = message;
  const about = STATUS_KINDS.get(id)?.about;
  if (about === "sensor-of-part") return functionsCalled(sensors[data1]) ?? SLOT_LABELS.get(data1)?.functions ?? [];
  const label = about === "slot" ? labelOf(data1, slots) : undefined;
  return (label === undefined ? undefined : SLOT_LABELS.get(label)?.functions) ?? [];
};

/** "Pan home": the words of a slot label in the name of a sensor, the longest that fit; undefined where there is no such sensor. */
const functionsCalled = (name: string | undefined): readonly FunctionId[] | undefined => {
  if (name === undefined) return undefined;
  const words = ` ${name.toLowerCase().replaceAll(/[^a-z]+/g, " ")} `;
  const fitting = [...SLOT_LABELS.values()].filter((one) => words.includes(` ${one.words} `));
  const [longest] = fitting.toSorted((a, b) => b.words.length - a.words.length);
  return longest?.functions ?? [];
};
