import { bad, byPlace, good, type Result } from "../../../domain/problem/problem.ts";
import type { Channel, Mode } from "./description.ts";
import type { Element } from "./element.ts";
import { geometryOf, sourceIn } from "./geometry.ts";
import { type Placing, type Placings, placingsIn } from "./places.ts";
import type { Description } from "./read-fixture.ts";
import { functionsOf } from "./read-functions.ts";
import { attribute, childrenOf, countIn, levelIn, mistake, type Reading, remark } from "./reading.ts";

/** Reads one mode in full: its channels with their functions, or everything that is wrong with it. */
export const readMode = ({ xml, fixture }: Description, element: Element): Result<Mode> => {
  const reading: Reading = { xml, mistakes: [], remarks: [] };
  const written = childrenOf(element, "DMXChannels", "DMXChannel").map((channel) => writtenOf(reading, channel));
  const bytes = new Map(written.map(({ name, offsets }) => [name, offsets.length || 1]));
  const placings = placingsIn(reading, element, fixture.geometries);
  if (written.length > MOST_CHANNELS) return bad(xml.problem(element, `more than ${MOST_CHANNELS} channels in a mode`));
  const channels = written.flatMap((channel) => channelsFrom(reading, channel, placings, bytes));
  reportClashes(reading, channels);
  for (const name of ["Relations", "FTMacros"])
    for (const unread of childrenOf(element, name).filter(({ children }) => children.length > 0))
      remark(reading, unread, `${name}: not read`);
  const main = Math.min(...new Set(channels.filter(({ slots }) => slots.length > 0).map((channel) => channel.break)));
  const slots = Math.max(0, ...new Set(channels.filter((one) => one.break === main).flatMap((one) => one.slots)));
  if (slots === 0) mistake(reading, element, "no channel of this mode has a slot");
  return reading.mistakes.length > 0
    ? bad(...byPlace(reading.mistakes))
    : good({
        name: modeName(element),
        source: sourceIn(geometryOf(element, fixture.geometries)),
        channels,
        slots,
        break: main,
        at: element.at,
        remarks: reading.remarks,
      });
};

/** A universe has 512 slots; virtual channels come on top. */
const MOST_CHANNELS = 2048;

export const modeName = (mode: Element): string => attribute(mode, "Name") ?? "";

interface Written {
  readonly element: Element;
  readonly name: string;
  readonly offsets: readonly number[];
}

const writtenOf = (reading: Reading, element: Element): Written => {
  const [first] = childrenOf(element, "LogicalChannel");
  const name = `${attribute(element, "Geometry") ?? ""}_${(first && attribute(first, "Attribute")) ?? ""}`;
  return { element, name, offsets: offsetsOf(reading, element) };
};

const offsetsOf = (reading: Reading, channel: Element): readonly number[] => {
  const written = attribute(channel, "Offset");
  if (written === undefined || written === "None") return [];
  const offsets = written.split(",").map((one) => (/^\s*\d{1,3}\s*$/.test(one) ? Number(one) : 0));
  if (offsets.length <= 4 && offsets.every((offset) => offset >= 1 && offset <= 512)) return offsets;
  mistake(reading, channel, `Offset="${written}" is not one to four slots from 1 to 512`);
  return [];
};

const channelsFrom = (
  reading: Reading,
  { element, name, offsets }: Written,
  placings: Placings,
  bytesOf: ReadonlyMap<string, number>,
): readonly Channel[] => {
  const bytes = offsets.length || 1;
  const functions = functionsOf(reading, element, bytes, bytesOf);
  const own = levelIn(reading, element, "Default", bytes);
  const asked = attribute(element, "InitialFunction")?.split(".")[2];
  const first = functions.find((one) => one.name === asked) ?? functions[0];
  const places = placings(attribute(element, "Geometry") ?? "", breakOf(reading, element));
  return places.map((placing, copy) => ({
    name,
    copy,
    break: placing.break,
    slots: shifted(reading, element, offsets, placing),
    initial: first?.initial ?? own ?? 0,
    functions,
    at: element.at,
  }));
};

const breakOf = (reading: Reading, channel: Element): number | "overwrite" =>
  attribute(channel, "DMXBreak") === "Overwrite" ? "overwrite" : countIn(reading, channel, "DMXBreak", 1);

const shifted = (
  reading: Reading,
  channel: Element,
  offsets: readonly number[],
  { shift }: Placing,
): readonly number[] => {
  const slots = offsets.map((offset) => offset + shift);
  const past = slots.find((slot) => slot > 512);
  if (past !== undefined) mistake(reading, channel, `slot ${past} is past the 512 of a universe`);
  return slots;
};

const reportClashes = (reading: Reading, channels: readonly Channel[]): void => {
  const owners = new Map<string, Channel>();
  for (const channel of channels)
    for (const slot of channel.slots) {
      const key = `${channel.break}/${slot}`;
      const owner = owners.get(key);
      if (owner) mistake(reading, channel, `slot ${slot} already belongs to ${owner.name}`);
      else owners.set(key, channel);
    }
};
