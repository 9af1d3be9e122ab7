import { bad, good, type Result } from "../../../domain/problem/problem.ts";
import type { FixtureType, WheelSlot } from "./description.ts";
import { type Element, readXml, type Xml } from "./element.ts";
import { attribute, childrenOf } from "./reading.ts";

/** A GDTF description with its modes still unread, and its text to read them from. */
export interface Description {
  readonly xml: Xml;
  readonly fixture: FixtureType;
}

/** Reads the frame of a description: name, wheels, light source, and which modes there are. */
export const readFixture = (source: string, text: string): Result<Description> => {
  const read = readXml(source, text);
  if (!read.ok) return read;
  const xml = read.value;
  if (xml.root.name !== "GDTF")
    return bad(xml.problem(xml.root, `the outermost element is ${xml.root.name}, not GDTF`));
  const [fixture] = childrenOf(xml.root, "FixtureType");
  if (!fixture) return bad(xml.problem(xml.root, "no FixtureType in it"));
  const modes = childrenOf(fixture, "DMXModes", "DMXMode");
  if (modes.length === 0) return bad(xml.problem(fixture, "no DMXMode in it: there is nothing to drive"));
  const geometries = childrenOf(fixture, "Geometries").flatMap(({ children }) => children);
  return good({
    xml,
    fixture: {
      name: attribute(fixture, "LongName") ?? attribute(fixture, "Name") ?? "fixture without a name",
      wheels: new Map(
        childrenOf(fixture, "Wheels", "Wheel").map((wheel) => [attribute(wheel, "Name") ?? "", slotsOf(wheel)]),
      ),
      modes,
      geometries,
    },
  });
};

const slotsOf = (wheel: Element): readonly WheelSlot[] =>
  childrenOf(wheel, "Slot").map((slot) => ({
    name: attribute(slot, "Name") ?? "",
    facets: childrenOf(slot, "Facet").length,
  }));
