import { groupsBy } from "../../../domain/keys.ts";
import type { Raw } from "../profile.ts";
import type { ChannelFunction, ChannelSet, MasterCondition } from "./description.ts";
import type { Element } from "./element.ts";
import { attribute, childrenOf, type GdtfReading, highest, levelIn, note, numberIn } from "./reading.ts";

/** How many bytes a channel of the mode has, by the name that ModeMaster calls it. */
export type BytesOf = ReadonlyMap<string, number>;

/**
 * The functions of a channel with their ends (DIN SPEC 15800, ChannelFunction): each reaches to where the next under the
 * same mode condition begins. `bytes` is the number of bytes of the channel, 1 to 4.
 */
export const functionsOf = (
  reading: GdtfReading,
  channel: Element,
  bytes: number,
  bytesOf: BytesOf,
): readonly ChannelFunction[] => {
  const all = childrenOf(channel, "LogicalChannel").flatMap((logical) => startsIn(reading, logical, bytes, bytesOf));
  if (all.length > MOST_FUNCTIONS)
    note(reading, channel, `${all.length} functions in one channel: the first ${MOST_FUNCTIONS} are read`);
  const starts = all.slice(0, MOST_FUNCTIONS);
  const groups = [...groupsBy(starts, ({ condition }) => conditionKey(condition)).values()];
  const kept = groups.flatMap((group) => endsOf(reading, group, highest(bytes), usedFunction));
  const ends = new Map(kept.map(({ element, to }) => [element, to]));
  return starts.flatMap((start) => {
    const to = ends.get(start.element);
    return to === undefined ? [] : [functionFrom(reading, start, to, bytes)];
  });
};

/** How many functions of one channel are read; one slot has 256 values. */
const MOST_FUNCTIONS = 1024;

export const NO_FEATURE = "NoFeature";

/** One text for each mode condition, and one for none: functions under the same condition hold together. */
export const conditionKey = (condition: MasterCondition | undefined): string =>
  condition ? `${condition.master} ${condition.from} ${condition.to}` : "";

interface StretchStart {
  readonly element: Element;
  readonly from: Raw;
}

interface FunctionStart extends StretchStart {
  readonly condition: MasterCondition | undefined;
  readonly attribute: string;
  readonly name: string;
}

const startsIn = (reading: GdtfReading, logical: Element, bytes: number, bytesOf: BytesOf): readonly FunctionStart[] =>
  childrenOf(logical, "ChannelFunction").map((element, n) => {
    // Early versions say the attribute at the logical channel only.
    const said = attribute(element, "Attribute") ?? attribute(logical, "Attribute") ?? NO_FEATURE;
    return {
      element,
      from: levelIn(reading, element, "DMXFrom", bytes) ?? 0,
      condition: conditionOf(reading, element, bytesOf),
      attribute: said,
      name: attribute(element, "Name") ?? `${said} ${n + 1}`,
    };
  });

const usedFunction = ({ element }: StretchStart): boolean =>
  (attribute(element, "Attribute") ?? NO_FEATURE) !== NO_FEATURE;
const usedSet = ({ element }: StretchStart): boolean =>
  attribute(element, "Name") !== undefined || Number(attribute(element, "WheelSlotIndex") ?? 0) >= 1;

/** Where functions end. Of two that begin at the same value the first that says anything counts, and the other is noted. */
const endsOf = <T extends StretchStart>(
  reading: GdtfReading,
  starts: readonly T[],
  last: Raw,
  isUsed: (start: T) => boolean,
): readonly (T & { readonly to: Raw })[] => {
  const alone = [...groupsBy(starts, ({ from }) => from).values()].map((same) => {
    const [first, ...others] = same.toSorted((a, b) => Number(isUsed(b)) - Number(isUsed(a)));
    if (!first) throw new Error("Bug: a group without a member");
    for (const { element, from } of others)
      note(
        reading,
        element,
        `begins at DMX value ${from} as ${calledBy(first.element)} does, which is taken: left out`,
      );
    return first;
  });
  const sorted = alone.toSorted((a, b) => a.from - b.from);
  return sorted.map((start, n) => ({ ...start, to: Math.max(start.from, (sorted[n + 1]?.from ?? last + 1) - 1) }));
};

const calledBy = (element: Element): string =>
  `"${attribute(element, "Name") ?? attribute(element, "Attribute") ?? ""}"`;

const conditionOf = (reading: GdtfReading, element: Element, bytesOf: BytesOf): MasterCondition | undefined => {
  const written = attribute(element, "ModeMaster");
  if (written === undefined || written === "None") return undefined;
  const master = [written, written.split(".")[0] ?? ""].find((name) => bytesOf.has(name));
  if (master === undefined) {
    note(reading, element, `ModeMaster="${written}" is no channel of this mode: read as if it always held`);
    return undefined;
  }
  const bytes = bytesOf.get(master) ?? 1;
  const from = levelIn(reading, element, "ModeFrom", bytes) ?? 0;
  const to = levelIn(reading, element, "ModeTo", bytes) ?? 0;
  if (to < from) note(reading, element, `ModeTo lies before ModeFrom, ${to} before ${from}: taken the other way round`);
  return { master, from: Math.min(from, to), to: Math.max(from, to) };
};

const functionFrom = (reading: GdtfReading, start: FunctionStart, to: Raw, bytes: number): ChannelFunction => {
  const { element, from, condition, name } = start;
  const physical = [
    numberIn(reading, element, "PhysicalFrom", 0),
    numberIn(reading, element, "PhysicalTo", 1),
  ] as const;
  return {
    name,
    attribute: start.attribute,
    from,
    to,
    physical,
    measured: physical[0] !== 0 || physical[1] !== 1,
    initial: levelIn(reading, element, "Default", bytes),
    fade: secondsIn(reading, element, "RealFade"),
    acceleration: secondsIn(reading, element, "RealAcceleration"),
    wheel: attribute(element, "Wheel"),
    condition,
    sets: setsOf(reading, element, { from, to, physical }, bytes),
    at: element.at,
  };
};

const secondsIn = (reading: GdtfReading, element: Element, name: string): number => {
  const seconds = numberIn(reading, element, name, 0);
  if (seconds < 0) note(reading, element, `${name} is less than nothing: taken as unknown`);
  return Math.max(0, seconds);
};

type Within = Pick<ChannelFunction, "from" | "to" | "physical">;

const setsOf = (reading: GdtfReading, element: Element, inside: Within, bytes: number): readonly ChannelSet[] => {
  const starts = childrenOf(element, "ChannelSet")
    .slice(0, MOST_FUNCTIONS)
    .map((set) => ({ element: set, from: levelIn(reading, set, "DMXFrom", bytes) ?? 0 }));
  const fits = ({ from }: StretchStart): boolean => from >= inside.from && from <= inside.to;
  for (const { element: stray, from } of starts.filter((start) => !fits(start)))
    note(reading, stray, `begins at ${from}, outside its function from ${inside.from} to ${inside.to}: left out`);
  return endsOf(reading, starts.filter(fits), inside.to, usedSet).map((start) => setFrom(reading, start, inside));
};

const setFrom = (
  reading: GdtfReading,
  { element, from, to }: StretchStart & { readonly to: Raw },
  inside: Within,
): ChannelSet => ({
  name: attribute(element, "Name") ?? "",
  from,
  to,
  physical: [
    numberIn(reading, element, "PhysicalFrom", inside.physical[0]),
    numberIn(reading, element, "PhysicalTo", inside.physical[1]),
  ],
  wheelSlot: wheelSlotOf(reading, element),
  at: element.at,
});

/** Counted from 1. 0 and less are ways of exporters to say none, the lowest whole number of 32 bits among them. */
const wheelSlotOf = (reading: GdtfReading, element: Element): number | undefined => {
  const written = attribute(element, "WheelSlotIndex");
  if (written === undefined || /^(none|0|-1)$/i.test(written)) return undefined;
  const index = Number(written);
  if (Number.isInteger(index) && index >= 1 && index <= MOST_FUNCTIONS) return index;
  note(reading, element, `WheelSlotIndex="${written}": taken as no slot of the wheel`);
  return undefined;
};
