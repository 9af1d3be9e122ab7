import type { LightSource } from "./description.ts";
import type { Element } from "./element.ts";
import { attribute } from "./reading.ts";

/** The top geometries of a fixture by name: what modes and references name. */
export const byName = (geometries: readonly Element[]): ReadonlyMap<string, Element> =>
  new Map(geometries.map((geometry) => [attribute(geometry, "Name") ?? "", geometry]));

/** A geometry and everything below it. */
export const within = (element: Element | undefined): readonly Element[] =>
  element === undefined ? [] : [element, ...element.children.flatMap(within)];

/** All that a mode's geometry consists of, with what it refers to. */
export const geometryOf = (mode: Element, geometries: readonly Element[]): readonly Element[] => {
  const named = byName(geometries);
  const own = within(named.get(attribute(mode, "Geometry") ?? ""));
  const referred = new Set(own.filter(isReference).map((reference) => attribute(reference, "Geometry") ?? ""));
  return [...own, ...[...referred].flatMap((name) => within(named.get(name)))];
};

export const isReference = ({ name }: Element): boolean => name === "GeometryReference";

/** What makes the light, where a beam says so. The standard's own default counts for nothing: too often it was only not set. */
export const sourceIn = (geometry: readonly Element[]): LightSource => {
  const types = geometry.flatMap((element) => (element.name === "Beam" ? (attribute(element, "LampType") ?? []) : []));
  return types.includes("Discharge") ? "discharge" : types.includes("LED") ? "led" : "unknown";
};
