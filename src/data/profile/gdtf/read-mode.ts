import { groupsBy } from "../../../domain/keys.ts";
import { bad, good, type Result } from "../../../domain/problem/problem.ts";
import {
  byName,
  type Channel,
  type Description,
  elementsWithin,
  isReference,
  type Mode,
  sourceOf,
} from "./description.ts";
import type { Element } from "./element.ts";
import { type BytesOf, functionsOf, NO_FEATURE } from "./read-functions.ts";
import { attribute, childrenOf, countIn, type GdtfReading, levelIn, note } from "./reading.ts";

/** Reads one mode in full. What can be understood is read; only a mode without a single slot cannot be. */
export const readMode = ({ xml, fixture }: Description, element: Element): Result<Mode> => {
  const reading: GdtfReading = { xml, notes: [] };
  const all = childrenOf(element, "DMXChannels", "DMXChannel");
  if (all.length > MOST_CHANNELS) return bad(xml.problem(element, `more than ${MOST_CHANNELS} channels in a mode`));
  const written = all.map((channel) => writtenOf(reading, channel));
  const bytes = new Map(written.map(({ name, offsets }) => [name, offsets.length || 1]));
  const placings = placingsIn(reading, element, fixture.geometries);
  const channels = withoutClashes(
    reading,
    written.flatMap((channel) => channelsFrom(reading, channel, placings, bytes)),
  );
  noteRelations(reading, element);
  const driven = channels.filter(({ slots }) => slots.length > 0);
  const main = Math.min(...new Set(driven.map((channel) => channel.break)));
  const slots = Math.max(0, ...new Set(driven.filter((one) => one.break === main).flatMap((one) => one.slots)));
  if (slots === 0) return bad(xml.problem(element, "no channel of this mode has a slot"), ...reading.notes);
  return good({
    name: modeName(element),
    source: sourceOf(element, fixture.geometries),
    channels,
    slots,
    break: main,
    at: element.at,
    notes: reading.notes,
  });
};

/**
 * What the fixture does by itself is told, not driven: a relation says that one channel scales or overrides another, a macro that
 * a chain of values can be sent (DIN SPEC 15800, mode relations and macros). Whoever tries a function knows then why it answers another.
 */
const noteRelations = (reading: GdtfReading, mode: Element): void => {
  for (const relation of childrenOf(mode, "Relations", "Relation")) {
    const [master, follower] = ["Master", "Follower"].map(
      (name) => attribute(relation, name) ?? "a channel without a name",
    );
    const does = attribute(relation, "Type") === "Override" ? "overrides" : "scales";
    note(reading, relation, `${master} ${does} ${follower}: the fixture does that by itself`);
  }
  for (const macro of childrenOf(mode, "FTMacros", "FTMacro"))
    note(
      reading,
      macro,
      `macro "${attribute(macro, "Name") ?? ""}": not driven, a chain of values of the fixture's own`,
    );
};

/** A universe has 512 slots; virtual channels come on top. */
const MOST_CHANNELS = 2048;
const UNIVERSE = 512;

/** The name of a mode as the file spells it, "" where it has none. */
export const modeName = (mode: Element): string => attribute(mode, "Name") ?? "";

interface WrittenChannel {
  readonly element: Element;
  readonly name: string;
  readonly offsets: readonly number[];
}

const writtenOf = (reading: GdtfReading, element: Element): WrittenChannel => {
  const [first] = childrenOf(element, "LogicalChannel");
  const name = `${attribute(element, "Geometry") ?? ""}_${(first && attribute(first, "Attribute")) ?? NO_FEATURE}`;
  return { element, name, offsets: offsetsOf(reading, element) };
};

/** Up to version 0.88 each byte had an attribute of its own; since then all stand in Offset, the coarse one first. */
const offsetsOf = (reading: GdtfReading, channel: Element): readonly number[] => {
  const early = ["Coarse", "Fine", "Ultra", "Uber"].flatMap((name) => attribute(channel, name) ?? []);
  const written = attribute(channel, "Offset") ?? early.filter((one) => one !== "None").join(",");
  if (written === "" || written === "None") return [];
  const offsets = written.split(/[,;\s]+/).map((one) => (/^\d{1,3}$/.test(one) ? Number(one) : 0));
  const sound = offsets.slice(0, 4).filter((offset) => offset >= 1 && offset <= UNIVERSE);
  if (sound.length < offsets.length)
    note(reading, channel, `Offset="${written}": ${sound.length > 0 ? `read as ${sound.join(",")}` : "no slot in it"}`);
  return sound;
};

const channelsFrom = (
  reading: GdtfReading,
  { element, name, offsets }: WrittenChannel,
  placings: Placings,
  bytesOf: BytesOf,
): readonly Channel[] => {
  const bytes = offsets.length || 1;
  const functions = functionsOf(reading, element, bytes, bytesOf);
  const own = levelIn(reading, element, "Default", bytes);
  const asked = attribute(element, "InitialFunction")?.split(".").at(-1);
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

const breakOf = (reading: GdtfReading, channel: Element): number | "overwrite" =>
  /^overwrite$/i.test(attribute(channel, "DMXBreak") ?? "") ? "overwrite" : countIn(reading, channel, "DMXBreak");

const shifted = (
  reading: GdtfReading,
  channel: Element,
  offsets: readonly number[],
  { shift }: Placing,
): readonly number[] => {
  const slots = offsets.map((offset) => offset + shift);
  const past = slots.find((slot) => slot > UNIVERSE);
  if (past === undefined) return slots;
  note(reading, channel, `slot ${past} is past the ${UNIVERSE} of a universe: left out`);
  return [];
};

/** A slot belongs to the first channel that has it; a second one is left without it, and told. */
const withoutClashes = (reading: GdtfReading, channels: readonly Channel[]): readonly Channel[] => {
  const owners = new Map<string, Channel>();
  return channels.map((channel) => {
    const clash = channel.slots.find((slot) => owners.has(`${channel.break}/${slot}`));
    if (clash === undefined) {
      for (const slot of channel.slots) owners.set(`${channel.break}/${slot}`, channel);
      return channel;
    }
    const owner = owners.get(`${channel.break}/${clash}`)?.name ?? "";
    note(reading, channel, `slot ${clash} already belongs to ${owner}: ${channel.name} is left out`);
    return { ...channel, slots: [] };
  });
};

/** One place in the DMX address range where a channel of the description stands. */
interface Placing {
  /** Which DMXBreak: each has a start address of its own. */
  readonly break: number;
  /** Added to the channel's offsets. */
  readonly shift: number;
}

/** Where the channels of a geometry stand: once as written, or once for every reference to the geometry. */
type Placings = (geometry: string, channelBreak: number | "overwrite") => readonly Placing[];

/**
 * The geometry references of a mode (DIN SPEC 15800, table 48 and 49): its channels are repeated for each reference, at
 * the offset that the reference gives for the channel's break; the last one given serves "Overwrite".
 */
const placingsIn = (reading: GdtfReading, mode: Element, geometries: readonly Element[]): Placings => {
  const named = byName(geometries);
  const references = elementsWithin(named.get(attribute(mode, "Geometry") ?? "")).filter(isReference);
  if (references.length > UNIVERSE)
    note(reading, references[0] ?? mode, `${references.length} geometry references: the first ${UNIVERSE} are read`);
  const byGeometry = groupsBy(
    references.slice(0, UNIVERSE).flatMap((reference) => referred(reference, named)),
    ({ geometry }) => geometry,
  );
  return (geometry, channelBreak) =>
    byGeometry.get(geometry)?.map(({ reference }) => placingBy(reading, reference, channelBreak)) ?? [
      { break: channelBreak === "overwrite" ? 1 : channelBreak, shift: 0 },
    ];
};

const referred = (reference: Element, named: ReadonlyMap<string, Element>) =>
  elementsWithin(named.get(attribute(reference, "Geometry") ?? "")).map((inside) => ({
    geometry: attribute(inside, "Name") ?? "",
    reference,
  }));

const placingBy = (reading: GdtfReading, reference: Element, channelBreak: number | "overwrite"): Placing => {
  const given = childrenOf(reference, "Break").map((element) => ({
    break: countIn(reading, element, "DMXBreak"),
    shift: countIn(reading, element, "DMXOffset") - 1,
  }));
  const fitting = channelBreak === "overwrite" ? given.at(-1) : given.find((one) => one.break === channelBreak);
  return fitting ?? { break: channelBreak === "overwrite" ? 1 : channelBreak, shift: 0 };
};
