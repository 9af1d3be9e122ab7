import { archiveOf, channelOf, descriptionOf, modeOf } from "./gdtf.ts";

/**
 * An invented fixture in three modes, written by hand from the text of DIN SPEC 15800. `simulated.ts` is the same fixture
 * once more in numbers of the simulation, also by hand.
 */
const WHEELS = `
<Wheel Name="Colours"><Slot Name="Open"/><Slot Name="Red"/><Slot Name="Blue"/><Slot Name="Green"/></Wheel>
<Wheel Name="Gobos"><Slot Name="Open"/><Slot Name="Dots"/><Slot Name="Bars"/><Slot Name="Ring"/></Wheel>
<Wheel Name="Prisms"><Slot Name="Open"/><Slot Name="Three"><Facet/><Facet/><Facet/></Slot></Wheel>`;

const GEOMETRIES = `
<Geometry Name="Base"><Axis Name="Yoke"><Axis Name="Head"><Beam Name="Lens" LampType="Discharge"/></Axis></Axis></Geometry>
<Geometry Name="Washlight"><Axis Name="Head2"><Beam Name="Lens2" LampType="LED"/>
  <GeometryReference Name="Cell 1" Geometry="Cell"><Break DMXBreak="1" DMXOffset="1"/></GeometryReference>
  <GeometryReference Name="Cell 2" Geometry="Cell"><Break DMXBreak="1" DMXOffset="4"/></GeometryReference>
  <GeometryReference Name="Cell 3" Geometry="Cell"><Break DMXBreak="1" DMXOffset="7"/></GeometryReference>
</Axis></Geometry>
<Beam Name="Cell" LampType="LED"/>`;

const SHUTTER = `
<ChannelFunction Name="Shut" Attribute="Shutter1" DMXFrom="0/1" Default="32/1">
  <ChannelSet Name="Closed" DMXFrom="0/1" PhysicalFrom="0" PhysicalTo="0"/>
  <ChannelSet Name="Open" DMXFrom="32/1" PhysicalFrom="1" PhysicalTo="1"/>
</ChannelFunction>
<ChannelFunction Name="Flash" Attribute="Shutter1Strobe" DMXFrom="64/1" PhysicalFrom="0.5" PhysicalTo="15"/>
<ChannelFunction Name="Chance" Attribute="Shutter1StrobeRandom" DMXFrom="201/1" PhysicalFrom="0.5" PhysicalTo="5"/>
<ChannelFunction Name="Still open" Attribute="Shutter1" DMXFrom="240/1" PhysicalFrom="1" PhysicalTo="1"/>`;

const COLOURS = `
<ChannelFunction Name="Pick" Attribute="Color1" Wheel="Colours" DMXFrom="0/1" RealFade="0.6">
  <ChannelSet Name="White" DMXFrom="0/1" WheelSlotIndex="1"/>
  <ChannelSet Name="R" DMXFrom="20/1" WheelSlotIndex="2"/>
  <ChannelSet Name="B" DMXFrom="40/1" WheelSlotIndex="3"/>
  <ChannelSet Name="G" DMXFrom="60/1" WheelSlotIndex="4"/>
  <ChannelSet Name="between" DMXFrom="80/1" WheelSlotIndex="0"/>
</ChannelFunction>
<ChannelFunction Name="Roll" Attribute="Color1WheelSpin" DMXFrom="128/1" PhysicalFrom="-180" PhysicalTo="180"/>`;

const CONTROL = `
<ChannelFunction Name="Do" Attribute="Control1" DMXFrom="0/1" Default="0/1">
  <ChannelSet Name="No function" DMXFrom="0/1"/>
  <ChannelSet Name="Lamp on" DMXFrom="130/1"/>
  <ChannelSet Name="No function" DMXFrom="140/1"/>
  <ChannelSet Name="Pan reset" DMXFrom="180/1"/>
  <ChannelSet Name="Reset all" DMXFrom="200/1"/>
  <ChannelSet Name="No function" DMXFrom="220/1"/>
</ChannelFunction>`;

const one = (attribute: string, more = ""): string => `<ChannelFunction Attribute="${attribute}" ${more}/>`;

/** One slot a function; tilt runs backwards; iris shares its slot with a pulse; blanks as in the standard's own examples. */
const basic = modeOf(
  "Basic",
  [
    channelOf("1", "Pan", one("Pan", `PhysicalFrom="-270" PhysicalTo=" 270" RealFade="2.6" Default="128/1"`)),
    channelOf("2", "Tilt", one("Tilt", `PhysicalFrom=" 135" PhysicalTo="-135" RealFade="1.6" Default="128/1"`)),
    channelOf("3", "Shutter1", SHUTTER),
    channelOf("4", "Dimmer", one("Dimmer", `RealFade="0.2"`)),
    channelOf("5", "Color1", COLOURS),
    channelOf(
      "6",
      "Gobo1",
      `<ChannelFunction Attribute="Gobo1" Wheel="Gobos" DMXFrom="0/1">
        <ChannelSet DMXFrom="0/1" WheelSlotIndex="1"/><ChannelSet DMXFrom="10/1" WheelSlotIndex="2"/>
        <ChannelSet DMXFrom="20/1" WheelSlotIndex="3"/><ChannelSet DMXFrom="30/1" WheelSlotIndex="4"/>
      </ChannelFunction>`,
    ),
    channelOf(
      "7",
      "Iris",
      one("Iris", `DMXFrom="0/1" PhysicalFrom="1" PhysicalTo="0.05" RealFade="0.4"`) +
        one("IrisStrobe", `DMXFrom="192/1" PhysicalFrom="1" PhysicalTo="5"`),
    ),
    channelOf("8", "Zoom", one("Zoom", `PhysicalFrom="8" PhysicalTo="42" Default="0/1"`)),
    channelOf("9", "Focus1", one("Focus1", `Default="100/1"`)),
    channelOf("10", "Control1", CONTROL),
    channelOf("11", "PositionMSpeed", one("PositionMSpeed", `Default="255/1"`)),
  ].join("\n"),
);

/** Two slots for what moves finely; the gobo turns or stands at an angle as its wheel's slot says; defaults as in GDTF 1.1. */
const extended = modeOf(
  "Extended",
  [
    channelOf("1,2", "Pan", one("Pan", `PhysicalFrom="-270" PhysicalTo="270" RealFade="2.6"`), `Default="32768/2"`),
    channelOf("3,4", "Tilt", one("Tilt", `PhysicalFrom="-135" PhysicalTo="135" RealFade="1.6"`), `Default="32768/2"`),
    channelOf("5,6", "Dimmer", one("Dimmer"), `Default="0/2"`),
    channelOf("7", "Shutter1", SHUTTER),
    channelOf("8", "ColorSub_C", one("ColorSub_C", `RealFade="0.4"`)),
    channelOf("9", "ColorSub_M", one("ColorSub_M", `RealFade="0.4"`)),
    channelOf("10", "ColorSub_Y", one("ColorSub_Y", `RealFade="0.4"`)),
    channelOf("11,12", "Color1", COLOURS),
    channelOf(
      "13",
      "Gobo1",
      `<ChannelFunction Attribute="Gobo1" Wheel="Gobos" DMXFrom="0/1">
        <ChannelSet DMXFrom="0/1" WheelSlotIndex="1"/><ChannelSet DMXFrom="10/1" WheelSlotIndex="2"/>
        <ChannelSet DMXFrom="20/1" WheelSlotIndex="3"/><ChannelSet DMXFrom="30/1" WheelSlotIndex="4"/>
      </ChannelFunction>
      <ChannelFunction Name="turning" Attribute="Gobo1" Wheel="Gobos" DMXFrom="128/1">
        <ChannelSet DMXFrom="128/1" WheelSlotIndex="2"/><ChannelSet DMXFrom="140/1" WheelSlotIndex="3"/>
        <ChannelSet DMXFrom="150/1" WheelSlotIndex="4"/>
      </ChannelFunction>`,
    ),
    channelOf(
      "14",
      "Gobo1Pos",
      one("Gobo1Pos", `ModeMaster="Head_Gobo1" ModeFrom="0/1" ModeTo="127/1" PhysicalFrom="0" PhysicalTo="540"`) +
        one(
          "Gobo1PosRotate",
          `ModeMaster="Head_Gobo1" ModeFrom="128/1" ModeTo="255/1" PhysicalFrom="360" PhysicalTo="-360"`,
        ),
    ),
    channelOf(
      "15",
      "Prism1",
      `<ChannelFunction Attribute="Prism1" Wheel="Prisms">
        <ChannelSet Name="-" DMXFrom="0/1" WheelSlotIndex="1"/><ChannelSet Name="3" DMXFrom="64/1" WheelSlotIndex="2"/>
      </ChannelFunction>`,
    ),
    channelOf(
      "16",
      "Prism1Pos",
      one("Prism1Pos", `DMXFrom="0/1" PhysicalFrom="0" PhysicalTo="360"`) +
        `<ChannelFunction Attribute="Prism1PosRotate" DMXFrom="128/1" PhysicalFrom="240" PhysicalTo="-240">
          <ChannelSet DMXFrom="128/1" PhysicalFrom="240" PhysicalTo="6"/>
          <ChannelSet DMXFrom="190/1" PhysicalFrom="0" PhysicalTo="0"/>
          <ChannelSet DMXFrom="194/1" PhysicalFrom="-6" PhysicalTo="-240"/>
        </ChannelFunction>`,
    ),
    channelOf("17", "Frost1", one("Frost1", `RealFade="0.6"`)),
    channelOf("18,19", "Iris", one("Iris", `PhysicalFrom="1" PhysicalTo="0.05"`)),
    channelOf("20,21", "Zoom", one("Zoom", `PhysicalFrom="8" PhysicalTo="42" RealFade="1.2"`)),
    channelOf("22,23", "Focus1", one("Focus1", `PhysicalFrom="2" PhysicalTo="100"`)),
    channelOf("24", "Control1", CONTROL),
  ].join("\n"),
  `<Relations><Relation Name="r" Master="Head_Dimmer" Follower="Head_ColorSub_C" Type="Multiply"/></Relations>`,
);

const cell = (offset: number, attribute: string): string =>
  `<DMXChannel DMXBreak="Overwrite" Offset="${offset}" Geometry="Cell"><LogicalChannel Attribute="${attribute}">` +
  `${one(attribute)}</LogicalChannel></DMXChannel>`;

/** A head of three cells by geometry references, pan and tilt on three and four slots, and a part with an address of its own. */
const cells = modeOf(
  "Cells",
  [
    cell(1, "ColorAdd_R"),
    cell(2, "ColorAdd_G"),
    cell(3, "ColorAdd_B"),
    channelOf("10,11,12", "Pan", one("Pan", `PhysicalFrom="-270" PhysicalTo="270" RealFade="2.2" Default="128/1"`)),
    channelOf("13,14,15,16", "Tilt", one("Tilt", `PhysicalFrom="-120" PhysicalTo="120" RealFade="1.2" Default="1/1s"`)),
    channelOf("17", "Dimmer", one("Dimmer")),
    channelOf("None", "ColorMacro1", one("ColorMacro1")),
    channelOf("1", "ColorAdd_W", one("ColorAdd_W")).replace(`DMXBreak="1"`, `DMXBreak="2"`),
  ].join("\n"),
).replace(`Geometry="Base"`, `Geometry="Washlight"`);

export const SAMPLE = descriptionOf([basic, extended, cells].join("\n"), { wheels: WHEELS, geometries: GEOMETRIES });
/** Another picture makes another file of the same fixture. */
export const sampleArchive = (picture: readonly number[] = [1, 2, 3]): Uint8Array =>
  archiveOf(SAMPLE, { "thumbnail.png": Uint8Array.from(picture) });
