import { expect, test } from "vitest";
import { must } from "../../../kit/shipped.ts";
import { archiveOf, BODY, channelOf, descriptionOf, modeOf } from "./kit/gdtf.ts";
import { importOf, problemsOf, profileOf, toldOf } from "./kit/imported.ts";

const one = (more: string, attribute = "Pan"): string => `<ChannelFunction Attribute="${attribute}" ${more}/>`;
const pan = (more: string): string => channelOf("1", "Pan", one(more));
const told = (description: string): string => toldOf(archiveOf(description));
const sound = descriptionOf(
  modeOf("One", [pan(`RealFade="3"`), channelOf("2", "Dimmer", one("", "Dimmer"))].join("\n")),
);

test("the description of these tests is sound", () => {
  expect(told(sound)).toBe("");
});

test("what was assumed points at its tag in the description", () => {
  const odd = sound.replace(`RealFade="3"`, `RealFade="-3"`);
  const line = odd.split("\n").findIndex((text) => text.includes(`RealFade="-3"`)) + 1;
  const [first] = must(importOf(archiveOf(odd))).notes;
  expect(first?.place).toMatchObject({ line, text: expect.stringContaining(`RealFade="-3"`) });
  expect(first?.message).toBe("RealFade is less than nothing: taken as unknown");
});

test("a mode that cannot go dark says so, at its own place", () => {
  const [problem] = problemsOf(archiveOf(descriptionOf(modeOf("One", pan(`PhysicalFrom="-9" PhysicalTo="9"`)))));
  expect(problem?.message).toContain("cannot become a profile: no way to go dark");
  expect(problem?.place?.text).toContain(`<DMXMode Name="One"`);
});

test.each([
  { text: "", says: "broken XML: Start tag expected", because: "an empty description is no XML" },
  { text: "<GDTF>", says: "broken XML: Unclosed tag 'GDTF'", because: "every tag is closed" },
  { text: "<GDTF><A></GDTF></A>", says: "broken XML", because: "tags close in order" },
  { text: "<GDTF/><GDTF/>", says: "exactly one outermost element", because: "XML has one root" },
  { text: "<MVR/>", says: "the outermost element is MVR, not GDTF", because: "not every XML is a fixture" },
  { text: "<GDTF/>", says: "no FixtureType in it", because: "a GDTF describes a fixture type" },
  { text: "<GDTF><FixtureType/></GDTF>", says: "no DMXMode in it", because: "without a mode nothing is driven" },
  {
    text: `<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;">]><GDTF Name="&b;"/>`,
    says: "a document type is not taken",
    because: "entities of its own could expand without end",
  },
  {
    text: `<!DOCTYPE x SYSTEM "file:///etc/passwd"><GDTF/>`,
    says: "a document type is not taken",
    because: "an entity could read files",
  },
  {
    text: "<A>".repeat(500) + "</A>".repeat(500),
    says: "not read: Maximum nested tags exceeded",
    because: "a fixture is not 500 deep",
  },
  { text: "<A/>".repeat(400_001), says: "more than 400000 tags", because: "a fixture has not half a million parts" },
  {
    text: `<GDTF ${'a="" '.repeat(500_001)}/>`,
    says: "more than 500000 attributes",
    because: "nor as many attributes",
  },
  {
    text: `<GDTF A="${"x".repeat(20_000)}"/>`,
    says: "more than 20000 characters in one tag, or between two",
    because: "no tag is a book",
  },
  {
    text: `<GDTF>${"x".repeat(20_001)}</GDTF>`,
    says: "more than 20000 characters in one tag, or between two",
    because: "and none stands between tags",
  },
  { text: `<GDTF __proto__="x"/>`, says: "XML that is not read", because: "no name reaches into the program" },
])("$because", ({ text, says }) => {
  expect(told(text)).toContain(says);
});

test("XML's own entities are read, and one that nobody declared stays as it is written", () => {
  const named = sound.replace(`LongName="Sample head"`, `LongName="A &amp; B &lt;&#252;&#x263A;&unknown;"`);
  const imported = must(importOf(archiveOf(named)));
  expect(imported.text).toContain('title: "A & B <\u00fc\u263a&unknown;, One, 2 slots"');
  expect(imported.name).toBe("a-b-u-unknown-one");
});

const CELLS = `<Geometry Name="Base">${`<GeometryReference Name="c" Geometry="Cell"><Break DMXOffset="1"/></GeometryReference>`.repeat(600)}</Geometry><Geometry Name="Cell"/>`;

test.each([
  {
    description: descriptionOf(modeOf("One", pan("")), { geometries: CELLS }),
    says: "600 geometry references: the first 512 are read",
    because: "a universe has no room for more",
  },
  {
    description: descriptionOf(modeOf("One", pan("").repeat(3000))),
    says: "more than 2048 channels in a mode",
    because: "nor for thousands of channels",
  },
  {
    description: descriptionOf(modeOf("One", pan("").replace(`Geometry="Head"`, `Geometry="Cell"`)), {
      geometries:
        BODY.replace("<Axis", `<GeometryReference Geometry="Cell"><Break DMXOffset="600"/></GeometryReference><Axis`) +
        `<Geometry Name="Cell"/>`,
    }),
    says: "slot 600 is past the 512 of a universe",
    because: "a reference lies within its universe",
  },
])("$because", ({ description, says }) => {
  expect(told(description)).toContain(says);
});

test("of a channel of thousands of functions the first thousand are read", () => {
  const functions = Array.from({ length: 1025 }, (_, n) => one(`DMXFrom="${n}/2"`)).join("");
  expect(profileOf(channelOf("1,2", "Pan", functions)).notes).toContain(
    "1025 functions in one channel: the first 1024 are read",
  );
});

test("a geometry that refers to itself is read once", () => {
  const geometries = `<Geometry Name="Base"><GeometryReference Geometry="Base"><Break DMXOffset="1"/></GeometryReference></Geometry>`;
  expect(told(descriptionOf(modeOf("One", pan("")), { geometries }))).toContain("no way to go dark");
});

test("of very many things that are not driven a thousand are told, and how many more there are", () => {
  const many = Array.from({ length: 1100 }, (_, n) => channelOf("1", `Iris${n}`, one("", `Iris${n}`)));
  const { notes } = profileOf(...many);
  expect([notes.length > 1000, notes.some((words) => words.endsWith("more of the kind"))]).toEqual([true, true]);
});
