import { type Zippable, zipSync } from "fflate";

/** A GDTF archive around a description, as DIN SPEC 15800 lays it out. */
export const archiveOf = (description: string, others: Zippable = {}): Uint8Array =>
  zipSync({ "description.xml": new TextEncoder().encode(description), ...others });

/** A description of one fixture type with these modes; the parts that Limber does not read are there as the standard wants them. */
export const descriptionOf = (
  modes: string,
  { wheels = "", geometries = BODY, version = "1.2" }: { wheels?: string; geometries?: string; version?: string } = {},
): string => `<?xml version="1.0" encoding="UTF-8" standalone="no" ?>
<GDTF DataVersion="${version}">
  <FixtureType Name="Sample" LongName="Sample head" ShortName="SH" Manufacturer="Nobody" FixtureTypeID="00000000-0000-0000-0000-000000000001" RefFT="">
    <AttributeDefinitions><FeatureGroups/><Attributes/></AttributeDefinitions>
    <Wheels>${wheels}</Wheels>
    <Geometries>${geometries}</Geometries>
    <DMXModes>
${modes}
    </DMXModes>
  </FixtureType>
</GDTF>
`;

export const BODY = `<Geometry Name="Base"><Axis Name="Yoke"><Axis Name="Head"><Beam Name="Lens" LampType="Discharge"/></Axis></Axis></Geometry>`;

/** One mode around its channels. */
export const modeOf = (name: string, channels: string, more = ""): string =>
  `<DMXMode Name="${name}" Geometry="Base"><DMXChannels>\n${channels}\n</DMXChannels>${more}</DMXMode>`;

/** One channel with one logical channel around its functions. */
export const channelOf = (offset: string, attribute: string, functions: string, more = ""): string =>
  `<DMXChannel DMXBreak="1" Offset="${offset}" Geometry="Head" Highlight="None" ${more}>` +
  `<LogicalChannel Attribute="${attribute}">${functions}</LogicalChannel></DMXChannel>`;
