import { expect, test } from "vitest";
import { rackFromScene, sceneFrom } from "../../../src/data/rack/from-scene.ts";
import { must } from "../../kit/shipped.ts";

/** A scene as DIN SPEC 15801 lays it out: layers, groups in them, fixtures in those. All of it invented. */
const scene = (fixtures: string): string =>
  `<GeneralSceneDescription verMajor="1" verMinor="6"><Scene><Layers><Layer name="Front truss"><ChildList>${fixtures}</ChildList></Layer></Layers></Scene></GeneralSceneDescription>`;
const fixture = (inside: string, name = "Head"): string => `<Fixture name="${name}" uuid="x">${inside}</Fixture>`;
const KIND = "<GDTFSpec>Nobody@Sample.gdtf</GDTFSpec><GDTFMode>Basic</GDTFMode>";
const fixturesOf = (text: string) => must(sceneFrom("scene.mvr", scene(text))).fixtures;

test.each([
  { written: "1", patch: { universe: 1, address: 1 }, because: "addresses count from 1" },
  { written: "512", patch: { universe: 1, address: 512 }, because: "a universe has 512" },
  { written: "513", patch: { universe: 2, address: 1 }, because: "and go on into the next (DIN SPEC 15801, Address)" },
  { written: "45.578", patch: undefined, because: "no universe has an address 578" },
  { written: "45.57", patch: { universe: 45, address: 57 }, because: "or name the universe (DIN SPEC 15801, Address)" },
  { written: "0", patch: undefined, because: "0 is an exporter's way to say none" },
  { written: "", patch: undefined, because: "nothing written is no address" },
])("address $written: $because", ({ written, patch }) => {
  const [one] = fixturesOf(fixture(`${KIND}<Addresses><Address break="0">${written}</Address></Addresses>`));
  expect(one?.patch).toEqual(patch);
});

test("fixtures are found in groups too, with the layer they hang in", () => {
  const [one] = fixturesOf(`<GroupObject name="g"><ChildList>${fixture(KIND)}</ChildList></GroupObject>`);
  expect(one).toMatchObject({ layer: "Front truss", name: "Head", spec: "Nobody@Sample.gdtf", mode: "Basic" });
});

test.each([
  { inside: "<FixtureID>17</FixtureID><UnitNumber>3</UnitNumber>", number: "17", because: "its own number first" },
  { inside: "<FixtureID></FixtureID><UnitNumber>3</UnitNumber>", number: "3", because: "then its unit number" },
  { inside: "<FixtureID>0</FixtureID><UnitNumber>0</UnitNumber>", number: "1", because: "else its place in the scene" },
])("$because", ({ inside, number }) => {
  expect(fixturesOf(fixture(KIND + inside))[0]?.number).toBe(number);
});

test("two fixtures with one number stay two", () => {
  const one = fixture(`${KIND}<FixtureID>7</FixtureID>`);
  expect(fixturesOf(one + one + one).map(({ number }) => number)).toEqual(["7", "7-2", "7-3"]);
});

test("what names no file is left out and told", () => {
  const { fixtures, notes } = must(sceneFrom("scene.mvr", scene(fixture("", "Pipe"))));
  expect([fixtures, notes.map(({ message }) => message)]).toEqual([[], ["Pipe names no GDTF file: left out"]]);
});

test("a rack file of a scene: its layers are shelves, its numbers stand for serials", () => {
  const patched = `${KIND}<Addresses><Address break="0">530</Address></Addresses>`;
  const read = must(sceneFrom("scene.mvr", scene(fixture(patched) + fixture(KIND, "Spare"))));
  expect(rackFromScene("tour", read, ({ name }) => (name === "Head" ? "sample-basic" : undefined))).toBe(`rack: tour
title: tour
lines:   # say what each universe really goes out on
  - { universe: 1, output: sim }
  - { universe: 2, output: sim }
fixtures:   # a scene knows no serial numbers: these are its own numbers
  - { serial: "1", profile: sample-basic, shelf: Front truss, place: "1: Head", universe: 2, address: 18 }
`);
  expect(rackFromScene("tour", read, () => undefined)).toBeUndefined();
});
