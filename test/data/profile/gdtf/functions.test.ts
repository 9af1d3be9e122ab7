import { expect, test } from "vitest";
import { parseProfile } from "../../../../src/data/profile/parse.ts";
import { physicalOf, type Travel } from "../../../../src/data/profile/profile.ts";
import type { FunctionId } from "../../../../src/domain/trade/functions.ts";
import { must } from "../../../kit/shipped.ts";
import { archiveOf, channelOf, descriptionOf, modeOf } from "./kit/gdtf.ts";
import { importOf, profileOf } from "./kit/imported.ts";

const one = (attribute: string, more = "", inside = ""): string =>
  `<ChannelFunction Attribute="${attribute}" ${more}>${inside}</ChannelFunction>`;
const set = (from: string, more: string): string => `<ChannelSet DMXFrom="${from}" ${more}/>`;
const travel = (id: FunctionId, ...channels: readonly string[]): Travel =>
  profileOf(...channels).profile.functions.get(id) as Travel;
const bands = (id: FunctionId, ...channels: readonly string[]) => {
  const spec = profileOf(...channels).profile.functions.get(id);
  return spec?.kind === "banded" ? spec.bands.map(({ from, to, is, range }) => [from, to, is, ...(range ?? [])]) : [];
};
const positions = (id: FunctionId, ...channels: readonly string[]) => {
  const spec = profileOf(...channels).profile.functions.get(id);
  return spec?.kind === "wheel" ? spec.positions.map(({ at, is }) => `${at} ${is}`) : [];
};

const PAN = `PhysicalFrom="-270" PhysicalTo="270"`;

test.each([
  { raw: 0, degrees: -270 },
  { raw: 32767, degrees: -0.00412 },
  { raw: 32768, degrees: 0.00412 },
  { raw: 65535, degrees: 270 },
])(
  "16-bit pan of -270 to 270 stands at $degrees at raw $raw (worked from the linear scale of DIN SPEC 15800)",
  ({ raw, degrees }) => {
    const pan = travel("Pan", channelOf("1,2", "Pan", one("Pan", PAN)));
    expect(physicalOf(pan, raw)).toBeCloseTo(degrees, 5);
  },
);

test("blanks around a number are no part of it: the standard's own examples contain them", () => {
  const pan = travel("Pan", channelOf(" 1 , 2 ", "Pan", one(" Pan ", `PhysicalFrom=" -270" PhysicalTo=" 270 "`)));
  expect([pan.slots, pan.from, pan.to]).toEqual([[1, 2], -270, 270]);
});

test("a range that runs backwards keeps its ends as written", () => {
  const tilt = travel("Tilt", channelOf("1", "Tilt", one("Tilt", `PhysicalFrom="135" PhysicalTo="-135"`)));
  expect([physicalOf(tilt, 0), physicalOf(tilt, 255)]).toEqual([135, -135]);
});

test.each([
  { slots: "1", high: 255 },
  { slots: "1,2", high: 65535 },
  { slots: "1,2,3", high: 16777215 },
  { slots: "1,2,3,4", high: 4294967295 },
])("a travel on slots $slots goes up to $high", ({ slots, high }) => {
  const pan = travel("Pan", channelOf(slots, "Pan", one("Pan", `${PAN} Default="128/1s"`)));
  expect(pan.high).toBe(high);
  expect(physicalOf(pan, high)).toBe(270);
});

test.each([
  { channel: `Default="64/1"`, function: "", rests: 64, because: "GDTF 1.0 and 1.1 keep the default on the channel" },
  { channel: "", function: `Default="64/1"`, rests: 64, because: "GDTF 1.2 keeps the default on the function" },
  { channel: `Default="9/1"`, function: `Default="64/1"`, rests: 64, because: "of both the newer place counts" },
  { channel: "", function: "", rests: 0, because: "without a default a channel stands at 0" },
])("$because", ({ channel, function: inside, rests }) => {
  const { profile } = profileOf(channelOf("1", "Pan", one("Pan", `${PAN} ${inside}`), channel));
  expect(profile.rest.get("Pan")).toBe(rests);
});

test("the initial function gives the default of a channel that has several", () => {
  const functions =
    one("Shutter1", `Name="Shut" Default="3/1" PhysicalTo="0"`) +
    one("Shutter1", `Name="Up" DMXFrom="9/1" Default="7/1" PhysicalFrom="1"`);
  const { profile } = profileOf(
    channelOf(
      "1",
      "Function",
      functions.replaceAll("Shutter1", "Function"),
      `Default="1/1" InitialFunction="Head_Function.Function.Up"`,
    ),
  );
  expect(profile.held).toEqual([{ slots: [1], at: 7 }]);
});

test("RealFade is the travel time; 0 is unknown, so the usual one is written and marked", () => {
  const known = profileOf(channelOf("1", "Pan", one("Pan", `${PAN} RealFade="3.4"`)));
  const unknown = profileOf(channelOf("1", "Pan", one("Pan", `${PAN} RealFade="0"`)));
  expect((known.profile.functions.get("Pan") as Travel).fullTravel).toBe(3.4);
  expect(known.text).toMatch(/Pan: .*# travel time from RealFade; not in the file, measure: lag_s$/m);
  expect(unknown.text).toMatch(/Pan: .*# not in the file, measure: full_travel_s, lag_s$/m);
});

test("a function ends where the next one begins, and its travel with it", () => {
  const iris = travel("Iris", channelOf("1,2", "Iris", one("Iris") + one("IrisStrobe", `DMXFrom="192/1"`)));
  expect([iris.low, iris.high]).toEqual([0, 192 * 257 - 1]);
});

test("functions may stand in any order in the file", () => {
  const iris = travel(
    "Iris",
    channelOf("1", "Iris", one("IrisStrobe", `DMXFrom="192/1"`) + one("Iris", `DMXFrom="10/1"`)),
  );
  expect([iris.low, iris.high]).toEqual([10, 191]);
});

test("a wheel slot index counts from 1; 0 and -1 show no slot", () => {
  const sets =
    set("0/1", `WheelSlotIndex="1"`) +
    set("20/1", `WheelSlotIndex="3"`) +
    set("40/1", `WheelSlotIndex="0" Name="x"`) +
    set("60/1", `WheelSlotIndex="-1" Name="y"`) +
    set("80/1", `WheelSlotIndex="2"`);
  expect(positions("Color1", channelOf("1", "Color1", one("Color1", `Wheel="W"`, sets)))).toEqual([
    "0 open",
    "20 Blue",
    "80 Red",
  ]);
});

/** DIN SPEC 15800: the slots of a wheel count from 1 in their order. That sets without an index follow it, and that the first stands open, is common practice, no source. */
test.each([
  {
    slots: ["Nothing", "Red", "Blue"],
    sets: ["a", "b", "c"],
    positions: ["0 open", "50 Red", "100 Blue"],
    because: "as many sets as slots are the slots in their order, and the first of a wheel is its open one",
  },
  {
    slots: ["Nothing", "Red", "Blue"],
    sets: ["a", "b"],
    positions: ["0 a", "50 b"],
    because: "with fewer sets than slots nobody knows which slot each shows: they keep their own names",
  },
  {
    slots: ["Nothing", "Red"],
    sets: ["Clear", "b", "c"],
    positions: ["0 open", "50 b", "100 c"],
    because: "so it is with more sets than slots, and one that is called clear is the open one",
  },
])("$sets.length sets without an index on a wheel of $slots.length slots are $positions, because $because", (wheel) => {
  const sets = wheel.sets.map((name, n) => set(`${50 * n}/1`, `Name="${name}"`)).join("");
  const channels = channelOf("1", "Color1", one("Color1", `Wheel="W"`, sets)) + channelOf("2", "Dimmer", one("Dimmer"));
  const wheels = `<Wheel Name="W">${wheel.slots.map((name) => `<Slot Name="${name}"/>`).join("")}</Wheel>`;
  const { text } = must(importOf(archiveOf(descriptionOf(modeOf("One", channels), { wheels }))));
  const spec = must(parseProfile("imported.yaml", text)).functions.get("Color1");
  expect(spec?.kind === "wheel" && spec.positions.map(({ at, is }) => `${at} ${is}`)).toEqual(wheel.positions);
});

test("on two slots a position begins at the first coarse level that surely lies in it", () => {
  const sets = set("0/2", `WheelSlotIndex="1"`) + set("5000/2", `WheelSlotIndex="2"`);
  // 5000 / 256 = 19.53 (worked): at 19 the slot before still holds.
  const { profile, text } = profileOf(channelOf("1,2", "Color1", one("Color1", `Wheel="W"`, sets)));
  expect(profile.functions.get("Color1")).toMatchObject({ slots: [1], positions: [{ at: 0 }, { at: 20 }] });
  expect(profile.held).toEqual([{ slots: [2], at: 0 }]);
  expect(text).toContain("fine of Color1: driven by its coarse slot");
});

test("a gobo wheel is a rotating one where something turns its gobos", () => {
  const gobo = channelOf(
    "1",
    "Gobo1",
    one("Gobo1", `Wheel="W"`, set("0/1", `WheelSlotIndex="1"`) + set("9/1", `WheelSlotIndex="2"`)),
  );
  const turning = channelOf("2", "Gobo1Pos", one("Gobo1PosRotate", `PhysicalFrom="60" PhysicalTo="-60"`));
  expect(profileOf(gobo).profile.functions.get("Gobo1")).toMatchObject({ wheel: "fixed" });
  expect(profileOf(gobo, turning).profile.functions.get("Gobo1")).toMatchObject({ wheel: "rotating" });
});

test("a shutter is closed and open where its physical value is 0 and 1, and beats in hertz", () => {
  const shutter = channelOf(
    "1",
    "Shutter1",
    one("Shutter1", "", set("0/1", `PhysicalTo="0"`) + set("20/1", `PhysicalFrom="1"`)) +
      one("Shutter1Strobe", `DMXFrom="64/1" PhysicalFrom="1" PhysicalTo="10"`) +
      one("Shutter1StrobePulse", `DMXFrom="128/1" PhysicalFrom="1" PhysicalTo="10"`),
  );
  expect(bands("Shutter1", shutter)).toEqual([
    [0, 19, "closed"],
    [20, 63, "open"],
    [64, 127, "strobe", 1, 10],
    [128, 255, "nothing"],
  ]);
});

test("sets of a shutter that say no value are told by their names, and an effect is neither open nor closed", () => {
  const sets = [
    `Name="Shutter closed"`,
    `DMXFrom="20/1" Name="Open"`,
    `DMXFrom="40/1" Name="Open pulse"`,
    `DMXFrom="200/1" Name="Shutter open"`,
  ];
  const shutter = one("Shutter1", "", sets.map((more) => `<ChannelSet ${more}/>`).join(""));
  expect(bands("Shutter1", channelOf("1", "Shutter1", shutter))).toEqual([
    [0, 19, "closed"],
    [20, 39, "open"],
    [40, 199, "nothing"],
    [200, 255, "open"],
  ]);
});

test("a prism of which nothing is said is out at its one end and in at the other", () => {
  expect(bands("Prism1", channelOf("1", "Prism1", one("Prism1")))).toEqual([
    [0, 0, "out"],
    [1, 254, "nothing"],
    [255, 255, "in"],
  ]);
});

test("functions that are told apart by their names alone keep their whole stretches", () => {
  const named = (id: string, first: string, second: string): string =>
    one(id, `Name="${first}"`) + one(id, `Name="${second}" DMXFrom="100/1"`);
  expect(bands("Prism1", channelOf("1", "Prism1", named("Prism1", "No prism", "Prism in")))).toEqual([
    [0, 99, "out"],
    [100, 255, "in"],
  ]);
  expect(bands("Shutter1", channelOf("1", "Shutter1", named("Shutter1", "Closed", "Open")))).toEqual([
    [0, 99, "closed"],
    [100, 255, "open"],
  ]);
});

test("a wheel without sets is left out, told and held: nobody knows what stands where", () => {
  const { profile, notes } = profileOf(channelOf("1", "Color1", one("Color1"), `Default="3/1"`));
  expect(notes).toEqual(["Color1, slot 1: left out, it has 0 positions that can be told apart"]);
  expect(profile.held).toEqual([{ slots: [1], at: 3 }]);
});

test("a shutter that opens evenly is closed at its one end and open at the other", () => {
  // The sets of Listing 1 of DIN SPEC 15800: closed, an even way, open.
  const even = channelOf("1", "Shutter1", one("Shutter1", `DMXFrom="10/1"`));
  expect(bands("Shutter1", even)).toEqual([
    [0, 9, "nothing"],
    [10, 10, "closed"],
    [11, 254, "nothing"],
    [255, 255, "open"],
  ]);
});

test("degrees a second become turns a minute, and where the speed passes through nothing it stands", () => {
  const turning = channelOf("1", "Prism1Pos", one("Prism1PosRotate", `PhysicalFrom="-254" PhysicalTo="256"`));
  // 2 degrees a second a level, 0 at level 127; a turn a minute is 6 degrees a second (worked).
  expect(bands("Prism1Pos", turning)).toEqual([
    [0, 126, "turn", -42.3333, -0.333333],
    [127, 127, "stop"],
    [128, 255, "turn", 0.333333, 42.6667],
  ]);
});

test("what holds under a mode condition ends where the next under the same condition begins", () => {
  const master = channelOf(
    "1",
    "Gobo1",
    one(
      "Gobo1",
      `Wheel="W"`,
      set("0/1", `WheelSlotIndex="1"`) + set("9/1", `WheelSlotIndex="2"`) + set("200/1", `WheelSlotIndex="3"`),
    ),
  );
  const when = (from: number, to: number): string => `ModeMaster="Head_Gobo1" ModeFrom="${from}/1" ModeTo="${to}/1"`;
  const follower = channelOf(
    "2",
    "Gobo1Pos",
    one("Gobo1Pos", `${when(128, 255)} PhysicalTo="540"`) +
      one("Gobo1PosRotate", `${when(0, 127)} DMXFrom="0/1" PhysicalFrom="60" PhysicalTo="6"`) +
      one("Gobo1PosRotate", `${when(0, 127)} Name="b" DMXFrom="100/1" PhysicalFrom="-6" PhysicalTo="-60"`),
  );
  expect(bands("Gobo1Pos", master, follower)).toEqual([
    [0, 99, "turn", 10, 1],
    [100, 255, "turn", -1, -10],
  ]);
  expect(positions("Gobo1", master, follower)).toEqual(["0 open", "9 Red"]);
  expect(profileOf(master, follower).notes).toContain(
    "Gobo1Pos, slot 2: not driven, holds only while Head_Gobo1 stands at 128 to 255",
  );
});

test("a master that no function moves is held where what was chosen holds", () => {
  const master = channelOf("1", "PanMode", one("PanMode", `Default="200/1"`));
  const when = (from: number, to: number): string => `ModeMaster="Head_PanMode" ModeFrom="${from}/1" ModeTo="${to}/1"`;
  const pan = (usual: string, other: string): string =>
    channelOf(
      "2",
      "Pan",
      one("PanRotate", when(0, 99)) +
        one("Pan", `${usual} PhysicalFrom="-90" PhysicalTo="90"`) +
        one("Pan", `Name="wide" ${other} ${PAN}`),
    );
  expect(profileOf(master, pan(when(100, 149), when(150, 255))).profile.held).toEqual([{ slots: [1], at: 200 }]);
  expect(travel("Pan", master, pan(when(100, 149), when(150, 255))).to).toBe(270);
  expect(profileOf(master, channelOf("2", "Pan", one("Pan", `${when(10, 20)} ${PAN}`))).profile.held).toEqual([
    { slots: [1], at: 10 },
  ]);
});

test("of a control channel the whole reset counts, not that of a part", () => {
  const control = channelOf(
    "1",
    "Control1",
    one(
      "Control1",
      "",
      set("0/1", `Name="Idle"`) +
        set("50/1", `Name="Pan/Tilt reset"`) +
        set("100/1", `Name="Reset all"`) +
        set("120/1", `Name="Fans full"`),
    ),
  );
  expect(profileOf(control).profile.functions.get("Control1")).toMatchObject({
    rest: 0,
    commands: [
      { is: "reset", at: 109 },
      { is: "fans-full", at: 187 },
    ],
  });
});

test("a reset that has an attribute of its own needs no name", () => {
  const control = channelOf(
    "1",
    "Control1",
    one("NoFeature") + one("FixtureGlobalReset", `DMXFrom="200/1"`) + one("NoFeature", `DMXFrom="220/1"`),
  );
  expect(profileOf(control).profile.functions.get("Control1")).toMatchObject({ commands: [{ is: "reset", at: 209 }] });
});

test.each([
  { attribute: "Frost1", functions: one("Frost1"), kind: "travel", because: "a frost that slides in is a travel" },
  {
    attribute: "Frost1",
    functions: one("Frost1", "", set("0/1", `PhysicalTo="0"`) + set("128/1", `PhysicalFrom="1"`)),
    kind: "banded",
    because: "a frost that is in or out has bands",
  },
] as const)("$because", ({ attribute, functions, kind }) => {
  expect(profileOf(channelOf("1", attribute, functions)).profile.functions.get(attribute)?.kind).toBe(kind);
});

test("a dimmer that runs backwards is dark at its high end", () => {
  const { profile } = profileOf(channelOf("1,2", "Dimmer", one("Dimmer", `PhysicalFrom="1" PhysicalTo="0"`)));
  expect(profile.rest.get("Dimmer")).toBe(65535);
});

test("what Limber does not drive is told with its slots, and held at its default", () => {
  const { profile, notes } = profileOf(channelOf("1,2", "CTB", one("CTB"), `Default="77/2"`));
  expect(notes).toEqual(["CTB, slots 1, 2: not driven, a correction of white that Limber does not drive"]);
  expect(profile.held).toEqual([{ slots: [1, 2], at: 77 }]);
});

const zoom = (slot: string, to: number, geometry = "Head"): string =>
  channelOf(slot, "Zoom", one("Zoom", `PhysicalFrom="5" PhysicalTo="${to}"`)).replace(`"Head"`, `"${geometry}"`);

test("a second channel of one function over the same travel is driven with the first", () => {
  expect(travel("Zoom", zoom("1", 50), zoom("2", 50, "Yoke")).cells).toEqual([[2]]);
});

test("one over another travel is told and held: one function has one place", () => {
  const { profile, notes } = profileOf(zoom("1", 50), zoom("2", 40, "Yoke"));
  expect(notes).toEqual(["Zoom, slot 2: not driven, Zoom is driven by slot 1"]);
  expect(profile.held).toEqual([{ slots: [2], at: 0 }]);
});
