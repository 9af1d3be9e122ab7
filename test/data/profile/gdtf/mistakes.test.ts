import { expect, test } from "vitest";
import { must } from "../../../kit/shipped.ts";
import { archiveOf, BODY, channelOf, descriptionOf, modeOf } from "./kit/gdtf.ts";
import { importOf, problemsOf, profileOf, refusalOf, toldOf } from "./kit/imported.ts";

const one = (more: string, attribute = "Pan"): string => `<ChannelFunction Attribute="${attribute}" ${more}/>`;
const pan = (more: string): string => channelOf("1", "Pan", one(more));
const told = (description: string): string => toldOf(archiveOf(description));
const sound = descriptionOf(modeOf("One", [pan(""), channelOf("2", "Dimmer", one("", "Dimmer"))].join("\n")));

test("the description of these tests is sound", () => {
  expect(told(sound)).toBe("");
});

test("a mistake points at its tag in the description", () => {
  const wrong = sound.replace(`Offset="2"`, `Offset="two"`);
  const line = wrong.split("\n").findIndex((text) => text.includes("two")) + 1;
  const [problem] = problemsOf(archiveOf(wrong));
  expect(problem?.place).toMatchObject({ line, column: 1, text: expect.stringContaining(`Offset="two"`) });
  expect(problem?.message).toBe('Offset="two" is not one to four slots from 1 to 512');
});

test.each([
  {
    channels: [pan(`PhysicalFrom="1,5"`)],
    says: 'PhysicalFrom="1,5" is not a number',
    because: "numbers have a point",
  },
  { channels: [pan(`RealFade="1e400"`)], says: "is not a number", because: "an endless number is none" },
  { channels: [pan(`RealFade="-1"`)], says: "RealFade is less than nothing", because: "a time is not negative" },
  {
    channels: [pan(`DMXFrom="0"`)],
    says: 'DMXFrom="0" is not a DMX value (such as',
    because: "a DMX value has its bytes",
  },
  {
    channels: [channelOf("1,2,3,4,5", "Pan", one(""))],
    says: "is not one to four slots from 1 to 512",
    because: "a channel has 8 to 32 bits",
  },
  { channels: [channelOf("513", "Pan", one(""))], says: "from 1 to 512", because: "a universe has 512 slots" },
  {
    channels: [pan(""), channelOf("1", "Tilt", one("", "Tilt"))],
    says: "slot 1 already belongs to Head_Pan",
    because: "two channels cannot share a slot",
  },
  {
    channels: [channelOf("3", "Pan", one("") + one(`Name="again"`))],
    says: 'overlaps "Pan": both begin at DMX value 0',
    because: "a value means one thing",
  },
  {
    channels: [
      channelOf(
        "3",
        "Iris",
        `<ChannelFunction Attribute="Iris"><ChannelSet Name="a"/><ChannelSet Name="b"/></ChannelFunction>`,
      ),
    ],
    says: 'overlaps "a": both begin at DMX value 0',
    because: "so do the sets of a function",
  },
  {
    channels: [pan(`ModeMaster="Head_Nobody" ModeFrom="0/1" ModeTo="9/1"`)],
    says: 'ModeMaster="Head_Nobody" is no channel of this mode',
    because: "a condition has a master",
  },
  {
    channels: [pan(`ModeMaster="Head_Dimmer" ModeFrom="9/1" ModeTo="1/1"`)],
    says: "ModeTo lies before ModeFrom: 1 before 9",
    because: "a condition has a low and a high end",
  },
  {
    channels: [pan("").replace(`DMXBreak="1"`, `DMXBreak="one"`)],
    says: 'DMXBreak="one" is not a whole number from 1',
    because: "breaks are counted",
  },
])("$because", ({ channels, says }) => {
  expect(refusalOf(...channels)).toContain(says);
});

test("a set outside its function harms nothing: it is left out and told", () => {
  const iris = `<ChannelFunction Attribute="Iris" DMXFrom="100/1"><ChannelSet Name="stray" DMXFrom="9/1"/></ChannelFunction>`;
  expect(profileOf(channelOf("3", "Iris", iris)).notes).toEqual([
    "begins at 9, outside its function from 100 to 255: left out",
  ]);
});

test("all mistakes of a mode are told at once, the first in the file first", () => {
  const channels = [pan(`RealFade="x" PhysicalTo="y"`), channelOf("1", "Tilt", one(`Default="z"`, "Tilt"))];
  const problems = problemsOf(archiveOf(descriptionOf(modeOf("One", channels.join("\n")))));
  expect(
    problems.map(({ message, place }) => `${(place?.line ?? 0) - (problems[0]?.place?.line ?? 0)} ${message}`),
  ).toEqual([
    '0 PhysicalTo="y" is not a number',
    '0 RealFade="x" is not a number',
    "1 slot 1 already belongs to Head_Pan",
    '1 Default="z" is not a DMX value',
  ]);
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
    says: "600 geometry references (at most 512)",
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

test("a channel of thousands of functions is refused", () => {
  const functions = Array.from({ length: 1025 }, (_, n) => one(`DMXFrom="${n}/2"`)).join("");
  expect(refusalOf(channelOf("1,2", "Pan", functions))).toContain("1025 functions in one channel (at most 1024)");
});

test("a geometry that refers to itself is read once", () => {
  const geometries = `<Geometry Name="Base"><GeometryReference Geometry="Base"><Break DMXOffset="1"/></GeometryReference></Geometry>`;
  expect(told(descriptionOf(modeOf("One", pan("")), { geometries }))).toContain("no way to go dark");
});

test("of very many things that are not driven a thousand are told, and how many more there are", () => {
  const many = Array.from({ length: 1100 }, (_, n) => channelOf("None", `Virtual${n}`, ""));
  const { notes } = profileOf(...many);
  expect([notes.length, notes.at(-1)]).toEqual([1001, "100 more of the kind"]);
});

test("of very many mistakes the first two hundred are told", () => {
  const many = Array.from({ length: 1000 }, (_, n) => channelOf("1", `Pan${n}`, one("")));
  expect(problemsOf(archiveOf(descriptionOf(modeOf("One", many.join("\n")))))).toHaveLength(200);
});
