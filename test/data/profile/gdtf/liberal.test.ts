import { expect, test } from "vitest";
import type { FunctionId } from "../../../../src/domain/trade/functions.ts";
import { must } from "../../../kit/shipped.ts";
import { archiveOf, BODY, channelOf, descriptionOf, modeOf } from "./kit/gdtf.ts";
import { importOf, profileOf, toldOf } from "./kit/imported.ts";

/**
 * Peculiarities met in public GDTF files of many hands, each in the smallest file of our own that shows it: what is made of it,
 * and what is told. No line here comes from any of those files.
 */

const one = (attribute: string, more = "", inside = ""): string =>
  `<ChannelFunction Attribute="${attribute}" ${more}>${inside}</ChannelFunction>`;
const set = (from: string, more: string): string => `<ChannelSet DMXFrom="${from}" ${more}/>`;
const spec = (id: FunctionId, ...channels: readonly string[]) => profileOf(...channels).profile.functions.get(id);

test.each([
  {
    because: "the lowest whole number of 32 bits is an exporter's way to say no wheel slot",
    channel: channelOf(
      "1",
      "Color1",
      one(
        "Color1",
        `Wheel="W"`,
        set("0/1", `WheelSlotIndex="1"`) +
          set("9/1", `WheelSlotIndex="-2147483648"`) +
          set("20/1", `WheelSlotIndex="2"`),
      ),
    ),
    id: "Color1",
    made: {
      positions: [
        { at: 0, is: "open" },
        { at: 20, is: "Red" },
      ],
    },
    note: 'WheelSlotIndex="-2147483648": taken as no slot of the wheel',
  },
  {
    because: "of two functions that begin at one value the one that says something counts",
    channel: channelOf("1", "Zoom", one("NoFeature", `Name="empty"`) + one("Zoom", `PhysicalFrom="8" PhysicalTo="40"`)),
    id: "Zoom",
    made: { from: 8, to: 40, low: 0, high: 255 },
    note: 'begins at DMX value 0 as "Zoom" does, which is taken: left out',
  },
  {
    because: "of two sets that begin at one value the named one counts",
    channel: channelOf(
      "1",
      "Shutter1",
      one("Shutter1", "", set("0/1", "") + set("0/1", `Name="Closed"`) + set("30/1", `Name="Open"`)),
    ),
    id: "Shutter1",
    made: {
      bands: [
        { from: 0, to: 29, is: "closed" },
        { from: 30, to: 255, is: "open" },
      ],
    },
    note: 'begins at DMX value 0 as "Closed" does, which is taken: left out',
  },
  {
    because: "bytes in hexadecimal digits",
    channel: channelOf("1", "Iris", one("Iris") + one("IrisStrobe", `DMXFrom="C0"`)),
    id: "Iris",
    made: { low: 0, high: 191 },
    note: 'DMXFrom="C0": read as hexadecimal on 1 byte',
  },
  {
    because: "a DMX value without its bytes",
    channel: channelOf("1,2", "Iris", one("Iris") + one("IrisStrobe", `DMXFrom="50000"`)),
    id: "Iris",
    made: { low: 0, high: 49999 },
    note: 'DMXFrom="50000": read as 2 bytes',
  },
  {
    because: "a decimal comma",
    channel: channelOf("1", "Zoom", one("Zoom", `PhysicalFrom="7,5" PhysicalTo="40"`)),
    id: "Zoom",
    made: { from: 7.5, to: 40 },
    note: 'PhysicalFrom="7,5": read as 7.5',
  },
  {
    because: "a unit behind the number",
    channel: channelOf("1", "Zoom", one("Zoom", `PhysicalFrom="8" PhysicalTo="40 deg"`)),
    id: "Zoom",
    made: { from: 8, to: 40 },
    note: 'PhysicalTo="40 deg": read as 40',
  },
  {
    because: "a number that is none is not read at all",
    channel: channelOf("1", "Iris", one("Iris", `RealFade="1e400"`)),
    id: "Iris",
    made: { fullTravel: 0.5 },
    note: 'RealFade="1e400" is no number that a fixture has: taken as 0',
  },
  {
    because: "mode masters that nobody is",
    channel: channelOf("1", "Iris", one("Iris", `ModeMaster="Head_Nobody" ModeFrom="0/1" ModeTo="9/1"`)),
    id: "Iris",
    made: { low: 0, high: 255 },
    note: 'ModeMaster="Head_Nobody" is no channel of this mode: read as if it always held',
  },
  {
    because: "a mode condition whose ends changed places",
    channel: channelOf("1", "Iris", one("Iris", `ModeMaster="Head_Dimmer" ModeFrom="9/1" ModeTo="1/1"`)),
    id: "Iris",
    made: { low: 0, high: 255 },
    note: "ModeTo lies before ModeFrom, 1 before 9: taken the other way round",
  },
  {
    because: "more than four bytes",
    channel: channelOf("1,2,3,4,5", "Iris", one("Iris")),
    id: "Iris",
    made: { slots: [1, 2, 3, 4] },
    note: 'Offset="1,2,3,4,5": read as 1,2,3,4',
  },
  {
    because: "a break that is no number",
    channel: channelOf("1", "Iris", one("Iris")).replace(`DMXBreak="1"`, `DMXBreak="one"`),
    id: "Iris",
    made: { slots: [1] },
    note: 'DMXBreak="one" is not a whole number from 1: taken as 1',
  },
] as const)("$because", ({ channel, id, made, note }) => {
  const { profile, notes } = profileOf(channel);
  expect(profile.functions.get(id)).toMatchObject(made);
  expect(notes).toContain(note);
});

test.each([
  { attribute: "Dim", id: "Dimmer", because: "Dim is a dimmer" },
  { attribute: "Red", id: "ColorAdd_R", because: "a colour's name is its emitter" },
  { attribute: "ColorRGB_Green", id: "ColorAdd_G", because: "mixing in RGB is mixing of emitters" },
  { attribute: "iris", id: "Iris", because: "capitals do not matter" },
  { attribute: "Prism", id: "Prism1", because: "a prism without a number is the first" },
  { attribute: "Gobo3Pos", id: "Gobo1Pos", because: "where a maker counts from 3, our first is free" },
  { attribute: "Blade2Rot", id: "Blade2B", because: "a blade's second motor is our second, be it a corner or a turn" },
] as const)("$attribute drives $id: $because", ({ attribute, id }) => {
  const { profile } = profileOf(channelOf("1", attribute, one(attribute)));
  expect([...profile.functions.keys()]).toContain(id);
});

test("early versions wrote one attribute for each byte", () => {
  const early = channelOf("x", "Iris", one("Iris")).replace(`Offset="x"`, `Coarse="3" Fine="4" Ultra="None"`);
  expect(spec("Iris", early)).toMatchObject({ slots: [3, 4] });
});

test("early versions said the attribute at the logical channel only", () => {
  const early = channelOf("1", "Iris", `<ChannelFunction Name="Iris 1"/>`);
  expect(spec("Iris", early)).toMatchObject({ kind: "travel", slots: [1] });
});

test("a version newer than the standard is read as far as it is known, and told", () => {
  const newer = descriptionOf(modeOf("One", channelOf("1", "Dimmer", one("Dimmer"))), { version: "1.3" });
  expect(must(importOf(archiveOf(newer))).notes[0]?.message).toBe(
    "DataVersion 1.3 is newer than 1.2: what is new in it is not read",
  );
});

test("a pan of 0 to 1 degree is a pan of which nothing is known: usual ends, marked", () => {
  const { profile, text } = profileOf(channelOf("1", "Pan", one("Pan")));
  expect(profile.functions.get("Pan")).toMatchObject({ from: -270, to: 270 });
  expect(text).toMatch(/Pan: .*not in the file, measure: from_deg, to_deg, full_travel_s, lag_s/);
});

test("a pan that is counted from its end has its middle at 0 degrees, and says so", () => {
  const { profile, text } = profileOf(channelOf("1", "Pan", one("Pan", `PhysicalFrom="0" PhysicalTo="540"`)));
  expect(profile.functions.get("Pan")).toMatchObject({ from: -270, to: 270 });
  expect(text).toContain("the file counts 0 to 540: taken from the middle");
});

test.each([
  { closed: "geschlossen", open: "offen", because: "German" },
  { closed: "Ferm\u00e9", open: "Ouvert", because: "French" },
  { closed: "Chiuso", open: "Aperto", because: "Italian" },
  { closed: "Cerrado", open: "Abierto", because: "Spanish" },
  { closed: "Zav\u0159eno", open: "Otev\u0159eno", because: "Czech" },
  { closed: "Blackout", open: "Open2", because: "a number behind the word" },
  { closed: "Shutter closed", open: "No strobe", because: "open, said by what it does not do" },
])("a shutter's words in $because", ({ closed, open }) => {
  const sets = set("0/1", `Name="${closed}"`) + set("10/1", `Name="${open}"`);
  const shutter = spec("Shutter1", channelOf("1", "Shutter1", one("Shutter1", "", sets)));
  expect(shutter).toMatchObject({
    bands: [
      { to: 9, is: "closed" },
      { from: 10, is: "open" },
    ],
  });
});

test("a shutter of which nothing says where it is open is held, and the dimmer makes it dark", () => {
  const { profile, notes } = profileOf(
    channelOf("1", "Shutter1", one("Shutter1Strobe", `PhysicalFrom="1" PhysicalTo="9"`), `Default="40/1"`),
  );
  expect([profile.functions.has("Shutter1"), profile.held]).toEqual([false, [{ slots: [1], at: 40 }]]);
  expect(notes).toContain("Shutter1, slot 1: left out, no stretch of it says what it does");
});

test("a slot that only strobes is open where it has no feature", () => {
  const strobe = one("NoFeature") + one("Shutter1Strobe", `DMXFrom="10/1" PhysicalFrom="1" PhysicalTo="9"`);
  const { profile } = profileOf(channelOf("1", "Shutter1", strobe));
  expect(profile.functions.get("Shutter1")).toMatchObject({
    bands: [{ from: 0, to: 9, is: "open" }, { is: "strobe" }],
  });
  expect(profile.rest.get("Shutter1")).toBe(4);
});

test("a dimmer that shares its slot with strobes is driven over its own stretch: it is the only light", () => {
  const shared =
    one("Shutter1", `PhysicalTo="0"`) +
    one("Dimmer", `DMXFrom="8/1"`) +
    one("Shutter1Strobe", `DMXFrom="100/1" PhysicalFrom="1" PhysicalTo="9"`);
  const mode = descriptionOf(modeOf("One", channelOf("1", "Shutter1", shared)));
  expect(must(importOf(archiveOf(mode))).text).toMatch(/Dimmer: .*from_raw: 8, to_raw: 99/);
});

const lightOnly = (...attributes: readonly string[]): string =>
  descriptionOf(modeOf("One", attributes.map((name, n) => channelOf(`${n + 1}`, name, one(name))).join("\n")));

test("colours without a dimmer are dark at nothing", () => {
  const { text } = must(importOf(archiveOf(lightOnly("ColorAdd_R", "ColorAdd_G", "ColorAdd_B"))));
  expect(text).toContain("lamp: { kind: led");
  expect(text).not.toContain("Dimmer");
});

test("warm and cool white alone: one is the white emitter, the other is kept dark", () => {
  const { text } = must(importOf(archiveOf(lightOnly("ColorAdd_WW", "ColorAdd_CW"))));
  expect(text).toMatch(/ColorAdd_W: .*slots: \[2\]/);
  expect(text).toContain("- { slots: [1], at: 0,");
});

test("a mode without any light of its own is refused: it could not be made dark", () => {
  expect(toldOf(archiveOf(lightOnly("Pan", "Tilt")))).toContain("no way to go dark");
});

test("a file that only holds a place for a fixture, every slot a dimmer of its own, is refused", () => {
  expect(toldOf(archiveOf(lightOnly("Dimmer1", "Dimmer2", "Dimmer3")))).toContain(
    "every slot is called a dimmer: the file only holds a place for a fixture",
  );
});

test("an emitter that Limber does not drive is held dark, whatever its default is", () => {
  const { profile } = profileOf(channelOf("1", "ColorAdd_BM", one("ColorAdd_BM"), `Default="255/1"`));
  expect(profile.held).toEqual([{ slots: [1], at: 0 }]);
});

test("a prism of which every value is 0 is in where its name says so", () => {
  const prism = spec(
    "Prism1",
    channelOf(
      "1",
      "Prism1",
      one("Prism1", `PhysicalTo="0"`, set("0/1", `Name="Open"`) + set("20/1", `Name="Three facets"`)),
    ),
  );
  expect(prism).toMatchObject({
    bands: [
      { to: 19, is: "out" },
      { from: 20, is: "in" },
    ],
  });
});

test("wheel slots without an index stand in the order of the wheel", () => {
  const sets = set("0/1", `Name="a"`) + set("50/1", `Name="b"`) + set("100/1", `Name="c"`);
  const wheel = spec("Color1", channelOf("1", "Color1", one("Color1", `Wheel="W"`, sets)));
  expect(wheel).toMatchObject({ positions: [{ is: "open" }, { at: 50, is: "Red" }, { at: 100, is: "Blue" }] });
});

test("a wheel that has a function for each position has its positions", () => {
  const functions = one("Color1", `Name="Open"`) + one("Color1", `Name="Deep blue" DMXFrom="40/1"`);
  const wheel = spec("Color1", channelOf("1", "Color1", functions));
  expect(wheel).toMatchObject({
    positions: [
      { at: 0, is: "open" },
      { at: 40, is: "Deep blue" },
    ],
  });
});

test("between two sets with a speed a set without one leads from the one to the other", () => {
  const sets =
    set("0/1", `PhysicalFrom="60" PhysicalTo="60"`) + set("1/1", "") + set("255/1", `PhysicalFrom="6" PhysicalTo="6"`);
  const rotation = spec(
    "Prism1Pos",
    channelOf("1", "Prism1Pos", one("Prism1PosRotate", `PhysicalFrom="60" PhysicalTo="-60"`, sets)),
  );
  expect(rotation).toMatchObject({ bands: [{ range: [10, 10] }, { range: [10, 1] }, { range: [1, 1] }] });
});

test("two channels with one slot: the first keeps it, the second is left out", () => {
  const { profile, notes } = profileOf(channelOf("1", "Iris", one("Iris")), channelOf("1", "Zoom", one("Zoom")));
  expect([...profile.functions.keys()]).toEqual(["Iris", "Dimmer"]);
  expect(notes).toContain("slot 1 already belongs to Head_Iris: Head_Zoom is left out");
});

test("a reference without its break would lie over the first: it is left out", () => {
  const cells = `<GeometryReference Geometry="Cell"/>`;
  const geometries = `${BODY.replace("<Axis", `${cells}${cells}<Axis`)}<Geometry Name="Cell"/>`;
  const red = channelOf("1", "ColorAdd_R", one("ColorAdd_R")).replace(`"Head"`, `"Cell"`);
  const { notes } = must(importOf(archiveOf(descriptionOf(modeOf("One", red), { geometries }))));
  expect(notes.map(({ message }) => message)).toContain(
    "slot 1 already belongs to Cell_ColorAdd_R: Cell_ColorAdd_R is left out",
  );
});

test("a fixture type that nobody wrapped in a GDTF element is read", () => {
  const bare = descriptionOf(modeOf("One", channelOf("1", "Dimmer", one("Dimmer")))).replace(/<\/?GDTF[^>]*>/g, "");
  expect(toldOf(archiveOf(bare))).toBe("");
});

test("RealAcceleration adds to the travel time of RealFade: started and stopped", () => {
  const pan = spec(
    "Pan",
    channelOf("1", "Pan", one("Pan", `PhysicalFrom="-9" PhysicalTo="90" RealFade="2" RealAcceleration="0.5"`)),
  );
  expect(pan).toMatchObject({ fullTravel: 2.5 });
});

test.each([
  { kilograms: 6, seconds: 2 },
  { kilograms: 18, seconds: 2.6 },
  { kilograms: 40, seconds: 3.4 },
])(
  "a head of $kilograms kg pans in $seconds s when nothing is said (common practice, no source)",
  ({ kilograms, seconds }) => {
    const weight = `<PhysicalDescriptions><Properties><Weight Value="${kilograms}"/></Properties></PhysicalDescriptions>`;
    const mode = modeOf("One", channelOf("1", "Dimmer", one("Dimmer")) + channelOf("2", "Pan", one("Pan")));
    const { text } = must(importOf(archiveOf(descriptionOf(mode).replace("<DMXModes>", `${weight}<DMXModes>`))));
    expect(text).toContain(`full_travel_s: ${seconds}, lag_s`);
  },
);

test("what a fixture does by itself is told: which channel scales or overrides another, and its macros", () => {
  const inside =
    `<Relations><Relation Name="a" Master="Head_Dimmer" Follower="Head_Zoom" Type="Override"/></Relations>` +
    `<FTMacros><FTMacro Name="Sunrise"><MacroDMX/></FTMacro></FTMacros>`;
  const channels = channelOf("1", "Dimmer", one("Dimmer")) + channelOf("2", "Zoom", one("Zoom"));
  const { notes } = must(importOf(archiveOf(descriptionOf(modeOf("One", channels, inside)))));
  expect(notes.map(({ message }) => message)).toEqual(
    expect.arrayContaining([
      "Head_Dimmer overrides Head_Zoom: the fixture does that by itself",
      'macro "Sunrise": not driven, a chain of values of the fixture\'s own',
    ]),
  );
});

test("a mode that only plays pictures is refused in words: nothing in it moves or makes light", () => {
  const channels = channelOf("1", "Playmode", one("Playmode")) + channelOf("2", "Video", one("Video"));
  expect(toldOf(archiveOf(descriptionOf(modeOf("Player", channels))))).toContain(
    "nothing in this mode moves or makes light: there is nothing to test",
  );
});
