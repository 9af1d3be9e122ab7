import type { Raw } from "../profile.ts";
import type { ChannelFunction, ChannelSet, Condition } from "./description.ts";
import { highest } from "./dmx-value.ts";
import type { Element } from "./element.ts";
import { grouped } from "./grouped.ts";
import { attribute, childrenOf, levelIn, mistake, numberIn, type Reading, remark } from "./reading.ts";

/** The functions of a channel with their ends: each reaches to where the next under the same mode condition begins. */
export const functionsOf = (
  reading: Reading,
  channel: Element,
  bytes: number,
  bytesOf: ReadonlyMap<string, number>,
): readonly ChannelFunction[] => {
  const starts = childrenOf(channel, "LogicalChannel").flatMap((logical) =>
    childrenOf(logical, "ChannelFunction").map((element, n) => ({
      element,
      from: levelIn(reading, element, "DMXFrom", bytes) ?? 0,
      condition: conditionOf(reading, element, bytesOf),
      name: attribute(element, "Name") ?? `${attribute(element, "Attribute") ?? NO_FEATURE} ${n + 1}`,
    })),
  );
  if (starts.length > MOST_FUNCTIONS)
    mistake(reading, channel, `${starts.length} functions in one channel`, `at most ${MOST_FUNCTIONS}`);
  const groups = grouped(starts, ({ condition }) => keyOf(condition));
  const ends = new Map(
    [...groups.values()]
      .flatMap((group) => endsOf(reading, group, highest(bytes)))
      .map(({ element, to }) => [element, to]),
  );
  return starts.map((start) => functionFrom(reading, start, ends.get(start.element) ?? start.from, bytes));
};

/** Of one channel; one slot has 256 values. */
const MOST_FUNCTIONS = 1024;

export const NO_FEATURE = "NoFeature";

interface Start {
  readonly element: Element;
  readonly from: Raw;
}

/** Two stretches that begin at the same value overlap: nobody could say which of them holds. */
const endsOf = (reading: Reading, starts: readonly Start[], last: Raw): readonly (Start & { readonly to: Raw })[] => {
  const sorted = starts.toSorted((a, b) => a.from - b.from);
  return sorted.map((start, n) => {
    const before = sorted[n - 1];
    if (before && before.from === start.from)
      mistake(reading, start.element, `overlaps ${calledBy(before.element)}: both begin at DMX value ${start.from}`);
    return { ...start, to: Math.max(start.from, (sorted[n + 1]?.from ?? last + 1) - 1) };
  });
};

const calledBy = (element: Element): string =>
  `"${attribute(element, "Name") ?? attribute(element, "Attribute") ?? ""}"`;

const keyOf = (condition: Condition | undefined): string =>
  condition ? `${condition.master} ${condition.from} ${condition.to}` : "always";

const conditionOf = (
  reading: Reading,
  element: Element,
  bytesOf: ReadonlyMap<string, number>,
): Condition | undefined => {
  const written = attribute(element, "ModeMaster");
  if (written === undefined) return undefined;
  const master = written.split(".")[0] ?? "";
  const bytes = bytesOf.get(master);
  if (bytes === undefined) mistake(reading, element, `ModeMaster="${written}" is no channel of this mode`);
  const from = levelIn(reading, element, "ModeFrom", bytes ?? 1) ?? 0;
  const to = levelIn(reading, element, "ModeTo", bytes ?? 1) ?? 0;
  if (to < from) mistake(reading, element, `ModeTo lies before ModeFrom: ${to} before ${from}`);
  return { master, from, to };
};

const functionFrom = (
  reading: Reading,
  { element, from, condition, name }: Start & { readonly condition: Condition | undefined; readonly name: string },
  to: Raw,
  bytes: number,
): ChannelFunction => {
  const physical = [
    numberIn(reading, element, "PhysicalFrom", 0),
    numberIn(reading, element, "PhysicalTo", 1),
  ] as const;
  return {
    name,
    attribute: attribute(element, "Attribute") ?? NO_FEATURE,
    from,
    to,
    physical,
    initial: levelIn(reading, element, "Default", bytes),
    fade: notNegative(reading, element, "RealFade"),
    acceleration: notNegative(reading, element, "RealAcceleration"),
    wheel: attribute(element, "Wheel"),
    condition,
    sets: setsOf(reading, element, { from, to, physical }, bytes),
    at: element.at,
  };
};

const notNegative = (reading: Reading, element: Element, name: string): number => {
  const seconds = numberIn(reading, element, name, 0);
  if (seconds < 0) mistake(reading, element, `${name} is less than nothing`);
  return seconds;
};

type Within = Pick<ChannelFunction, "from" | "to" | "physical">;

const setsOf = (reading: Reading, element: Element, inside: Within, bytes: number): readonly ChannelSet[] => {
  const starts = childrenOf(element, "ChannelSet").map((set) => ({
    element: set,
    from: levelIn(reading, set, "DMXFrom", bytes) ?? 0,
  }));
  const [fitting, strays] = [starts.filter(inRange(inside)), starts.filter((start) => !inRange(inside)(start))];
  for (const { element: stray, from } of strays)
    remark(reading, stray, `begins at ${from}, outside its function from ${inside.from} to ${inside.to}: left out`);
  return endsOf(reading, fitting, inside.to).map((start) => setFrom(reading, start, inside));
};

const inRange =
  (inside: Within) =>
  ({ from }: Start): boolean =>
    from >= inside.from && from <= inside.to;

const setFrom = (reading: Reading, { element, from, to }: Start & { readonly to: Raw }, inside: Within): ChannelSet => {
  const index = numberIn(reading, element, "WheelSlotIndex", 0);
  if (!Number.isInteger(index)) mistake(reading, element, "WheelSlotIndex is not a whole number");
  return {
    name: attribute(element, "Name") ?? "",
    from,
    to,
    physical: [
      numberIn(reading, element, "PhysicalFrom", inside.physical[0]),
      numberIn(reading, element, "PhysicalTo", inside.physical[1]),
    ],
    wheelSlot: index >= 1 ? index : undefined,
    at: element.at,
  };
};
