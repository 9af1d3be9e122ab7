import { bad, good, type Problem, type Result } from "../../../domain/problem/problem.ts";
import type { Seconds } from "../../../domain/units.ts";
import type { Raw } from "../profile.ts";
import { type Element, readXml, type Xml } from "./element.ts";
import { attribute, childrenOf, type GdtfReading, note, numberIn } from "./reading.ts";

/** What Limber reads of a GDTF description (DIN SPEC 15800). `at` leads back to the text. */
export interface FixtureType {
  readonly name: string;
  /** Kilograms; undefined where the file does not say. */
  readonly weight: number | undefined;
  readonly wheels: ReadonlyMap<string, readonly WheelSlot[]>;
  /** Read one by one: what cannot be read in one mode does not close the others. */
  readonly modes: readonly Element[];
  readonly geometries: readonly Element[];
  /** What was assumed in reading all this. */
  readonly notes: readonly Problem[];
}

export type LightSource = "discharge" | "led" | "halogen" | "unknown";

export interface WheelSlot {
  readonly name: string;
  /** 0: a flat one, no prism. */
  readonly facets: number;
}

export interface Mode {
  readonly name: string;
  readonly source: LightSource;
  readonly channels: readonly Channel[];
  /** The DMXBreak that Limber drives, and how many slots it takes: the lowest there is, for one start address. */
  readonly break: number;
  readonly slots: number;
  readonly at: number;
  /** What was assumed, or left out, in reading. */
  readonly notes: readonly Problem[];
}

export interface Channel {
  /** As ModeMaster names it: geometry, "_", attribute of the first logical channel. */
  readonly name: string;
  /** 0 for the first; more for the repeats of a referenced geometry. */
  readonly copy: number;
  readonly break: number;
  /** Counted from 1 within the break, coarse first; none for a virtual channel. */
  readonly slots: readonly number[];
  readonly initial: Raw;
  readonly functions: readonly ChannelFunction[];
  readonly at: number;
}

/** One stretch of a channel. Physical values run from the first to the second and may fall. */
export interface ChannelFunction {
  readonly name: string;
  readonly attribute: string;
  readonly from: Raw;
  readonly to: Raw;
  readonly physical: readonly [number, number];
  /** False where neither end is written, or both are the standard's default of 0 and 1: then nobody knows. */
  readonly measured: boolean;
  readonly initial: Raw | undefined;
  /** Over the whole span; 0 is unknown. */
  readonly fade: Seconds;
  readonly acceleration: Seconds;
  readonly wheel: string | undefined;
  readonly condition: MasterCondition | undefined;
  readonly sets: readonly ChannelSet[];
  readonly at: number;
}

/** Holds only while the master channel stands between the two. */
export interface MasterCondition {
  readonly master: string;
  readonly from: Raw;
  readonly to: Raw;
}

export interface ChannelSet {
  readonly name: string;
  readonly from: Raw;
  readonly to: Raw;
  readonly physical: readonly [number, number];
  /** Counted from 1; undefined for none. */
  readonly wheelSlot: number | undefined;
  readonly at: number;
}

/** A GDTF description with its modes still unread, and its text to read them from. */
export interface Description {
  readonly xml: Xml;
  readonly fixture: FixtureType;
}

/**
 * Reads the frame of a description (DIN SPEC 15800): name, weight, wheels, geometries, and which modes there are. Refused
 * where the XML is broken, or where it has no fixture type or no mode.
 */
export const readFixtureType = (source: string, text: string): Result<Description> => {
  const read = readXml(source, text);
  if (!read.ok) return read;
  const xml = read.value;
  // Some programs write the fixture type without the element around it.
  const fixture = xml.root.name === "FixtureType" ? xml.root : childrenOf(xml.root, "FixtureType")[0];
  if (xml.root.name !== "GDTF" && xml.root !== fixture)
    return bad(xml.problem(xml.root, `the outermost element is ${xml.root.name}, not GDTF`));
  if (!fixture) return bad(xml.problem(xml.root, "no FixtureType in it"));
  const modes = childrenOf(fixture, "DMXModes", "DMXMode");
  if (modes.length === 0) return bad(xml.problem(fixture, "no DMXMode in it: there is nothing to drive"));
  return good({ xml, fixture: fixtureFrom(xml, fixture, modes) });
};

const fixtureFrom = (xml: Xml, fixture: Element, modes: readonly Element[]): FixtureType => {
  const notes: Problem[] = [];
  const reading: GdtfReading = { xml, notes };
  tellVersion(reading);
  tellNamesTwice(reading, modes);
  const [weight] = childrenOf(fixture, "PhysicalDescriptions", "Properties", "Weight");
  const kilograms = weight ? numberIn(reading, weight, "Value", 0) : 0;
  return {
    name: attribute(fixture, "LongName") ?? attribute(fixture, "Name") ?? "fixture without a name",
    weight: kilograms > 0 ? kilograms : undefined,
    wheels: new Map(
      childrenOf(fixture, "Wheels", "Wheel").map((wheel) => [attribute(wheel, "Name") ?? "", slotsOf(wheel)]),
    ),
    modes,
    geometries: childrenOf(fixture, "Geometries").flatMap(({ children }) => children),
    notes,
  };
};

/** The newest version of the standard that this reader was written from (DIN SPEC 15800:2022-02). */
const NEWEST = 1.2;

const tellVersion = (reading: GdtfReading): void => {
  const { root } = reading.xml;
  const version = attribute(root, "DataVersion");
  if (version !== undefined && Number(version) > NEWEST)
    note(reading, root, `DataVersion ${version} is newer than ${NEWEST}: what is new in it is not read`);
};

const tellNamesTwice = (reading: GdtfReading, modes: readonly Element[]): void => {
  const names = modes.map((mode) => attribute(mode, "Name") ?? "");
  for (const [n, mode] of modes.entries())
    if (names.indexOf(names[n] ?? "") !== n) note(reading, mode, `a second mode is called "${names[n]}"`);
};

const slotsOf = (wheel: Element): readonly WheelSlot[] =>
  childrenOf(wheel, "Slot").map((slot) => ({
    name: attribute(slot, "Name") ?? "",
    facets: childrenOf(slot, "Facet").length,
  }));

/** The modes by the names that a user calls them: a name that comes twice is numbered from its second on. */
export const modesByName = ({ modes }: FixtureType): ReadonlyMap<string, Element> => {
  const named = new Map<string, Element>();
  for (const mode of modes) {
    const name = attribute(mode, "Name") ?? "mode without a name";
    let free = name;
    for (let n = 2; named.has(free); n++) free = `${name} (${n})`;
    named.set(free, mode);
  }
  return named;
};

/** The top geometries of a fixture by name: what modes and references name. */
export const byName = (geometries: readonly Element[]): ReadonlyMap<string, Element> =>
  new Map(geometries.toReversed().map((geometry) => [attribute(geometry, "Name") ?? "", geometry]));

/** A geometry and everything below it. */
export const elementsWithin = (element: Element | undefined): readonly Element[] =>
  element === undefined ? [] : [element, ...element.children.flatMap(elementsWithin)];

/** Whether a geometry stands for another one that is described elsewhere (DIN SPEC 15800, GeometryReference). */
export const isReference = ({ name }: Element): boolean => name === "GeometryReference";

/**
 * What makes the light of a mode, where a beam of its geometry, or of what it refers to, says so. The standard's own default,
 * a discharge lamp, counts where it is written: too often it was only not set.
 */
export const sourceOf = (mode: Element, geometries: readonly Element[]): LightSource => {
  const named = byName(geometries);
  const own = elementsWithin(named.get(attribute(mode, "Geometry") ?? ""));
  const referred = new Set(own.filter(isReference).map((reference) => attribute(reference, "Geometry") ?? ""));
  const all = [...own, ...[...referred].flatMap((name) => elementsWithin(named.get(name)))];
  const types = all.flatMap((element) => (element.name === "Beam" ? (attribute(element, "LampType") ?? []) : []));
  if (types.includes("Discharge")) return "discharge";
  if (types.includes("LED")) return "led";
  return types.some((type) => type === "Halogen" || type === "Tungsten") ? "halogen" : "unknown";
};
