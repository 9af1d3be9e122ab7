import { bad, good, type Problem, type Result } from "../../domain/problem/problem.ts";
import { type Element, readXml } from "../profile/gdtf/element.ts";
import { SLOTS } from "./rack.ts";
import { entryText, inYaml, newRackText } from "./write.ts";

/** One fixture of an MVR scene (DIN SPEC 15801): which file and mode it is, where it hangs, and what it listens to. */
export interface SceneFixture {
  /** Its number in the scene, or its place in the file: no scene knows serial numbers. */
  readonly number: string;
  readonly name: string;
  readonly layer: string;
  /** The GDTF file inside the scene. */
  readonly spec: string;
  readonly mode: string;
  /** The address of its first break; undefined where it is not patched. */
  readonly patch: { readonly universe: number; readonly address: number } | undefined;
}

export interface RackScene {
  readonly fixtures: readonly SceneFixture[];
  readonly notes: readonly Problem[];
}

/**
 * The fixtures of a scene's `GeneralSceneDescription.xml` (DIN SPEC 15801), in their order, out of all layers and groups.
 * Refused where the XML is broken or is no scene; fixtures that name no GDTF file are left out and noted.
 */
export const sceneFrom = (source: string, text: string): Result<RackScene> => {
  const read = readXml(source, text);
  if (!read.ok) return read;
  const { root } = read.value;
  if (root.name !== "GeneralSceneDescription")
    return bad(read.value.problem(root, `the outermost element is ${root.name}, not GeneralSceneDescription`));
  const found = within(root, "").filter(({ element }) => element.name === "Fixture");
  const fixtures = found.map(({ element, layer }, n) => fixtureFrom(element, layer, n));
  const notes = found.flatMap(({ element }, n) =>
    fixtures[n]?.spec === "" ? [read.value.problem(element, `${fixtures[n].name} names no GDTF file: left out`)] : [],
  );
  return good({ fixtures: numbered(fixtures.filter(({ spec }) => spec !== "")), notes });
};

interface Layered {
  readonly element: Element;
  readonly layer: string;
}

const within = (element: Element, layer: string): readonly Layered[] => {
  const inside = element.name === "Layer" ? (element.attributes.get("name") ?? "") : layer;
  return [{ element, layer: inside }, ...element.children.flatMap((child) => within(child, inside))];
};

const fixtureFrom = (element: Element, layer: string, n: number): SceneFixture => {
  const said = (name: string): string => element.children.find((child) => child.name === name)?.text ?? "";
  return {
    number: [said("FixtureID"), said("UnitNumber")].find((one) => one !== "" && one !== "0") ?? String(n + 1),
    name: element.attributes.get("name") || `fixture ${n + 1}`,
    layer: layer || "scene",
    spec: said("GDTFSpec"),
    mode: said("GDTFMode"),
    patch: patchIn(element),
  };
};

/** An address counts through all universes, 513 being the first of the second; or it is written universe.address. */
const patchIn = (element: Element): SceneFixture["patch"] => {
  const written = within(element, "").find((one) => one.element.name === "Address" && one.element.text !== "")?.element
    .text;
  const [, universe, address] = /^(?:(\d{1,5})\.)?(\d{1,9})$/.exec(written ?? "") ?? [];
  const absolute = Number(address);
  if (!(absolute >= 1)) return undefined;
  if (universe === undefined)
    return { universe: Math.floor((absolute - 1) / SLOTS) + 1, address: ((absolute - 1) % SLOTS) + 1 };
  return absolute <= SLOTS ? { universe: Number(universe), address: absolute } : undefined;
};

/** Scenes number by hand: a number that came before gets a letter. */
const numbered = (fixtures: readonly SceneFixture[]): readonly SceneFixture[] => {
  const taken = new Set<string>();
  return fixtures.map((fixture) => {
    let number = fixture.number;
    for (let n = 2; taken.has(number); n++) number = `${fixture.number}-${n}`;
    taken.add(number);
    return { ...fixture, number };
  });
};

/**
 * A rack file of a scene's fixtures.
 *
 * @param name of the rack, in small letters, digits and hyphens
 * @param profileOf what the profile of a fixture is called; undefined where none could be made
 */
export const rackFromScene = (
  name: string,
  { fixtures }: RackScene,
  profileOf: (fixture: SceneFixture) => string | undefined,
): string | undefined => {
  const entries = fixtures.flatMap((fixture, n) => {
    const profile = profileOf(fixture);
    return profile === undefined ? [] : [entryOf(fixture, profile, n)];
  });
  if (entries.length === 0) return undefined;
  return newRackText({
    name,
    title: name,
    universes: fixtures.map(({ patch }) => patch?.universe ?? 1),
    remark: "a scene knows no serial numbers: these are its own numbers",
    entries,
  });
};

const entryOf = ({ number, name, layer, patch }: SceneFixture, profile: string, n: number): string =>
  entryText([
    ["serial", inYaml(number)],
    ["profile", profile],
    ["shelf", inYaml(short(layer))],
    ["place", inYaml(short(`${n + 1}: ${name}`))],
    ["universe", patch?.universe],
    ["address", patch?.address],
  ]);

/** A name cut to what a rack file takes. */
const short = (words: string): string => words.replace(/\s+/g, " ").trim().slice(0, 60).trim() || "scene";
