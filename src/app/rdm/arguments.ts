import { Option } from "commander";
import { type Family, taking } from "../common/command.ts";
import * as option from "../common/options.ts";
import type { RdmWhere } from "./rdm-find.ts";

/** What fixtures say of themselves over the DMX cable (RDM, ANSI E1.20). Nothing moves, unless a command says so. */
export const questions: Family = (program, ends) => {
  const rdm = program.command("rdm").description("what fixtures say of themselves over the DMX cable (RDM)");
  rdmFindCommand(rdm, ends);
  rdmReadCommand(rdm, ends);
  rdmSettingsCommand(rdm, ends);
  rdmIdentifyCommand(rdm, ends);
  rdmTestCommand(rdm, ends);
  rdmProfileCommand(rdm, ends);
  rdmAddressCommand(rdm, ends);
};

const rdmFindCommand: Family = (rdm, ends) => {
  taking(
    rdm
      .command("find [rack]")
      .description("all fixtures that answer: who they are, address and mode, beside the rack file"),
    ...where(),
    new Option("--as <form>", "in which form; rack: a rack file of what was found")
      .choices(["text", "json", "rack"])
      .default("text"),
    option.outOption(),
    option.jsonOption(),
  ).action(async (rack: string | undefined, { json, ...given }) => {
    const { findFixtures } = await import("./rdm-find.ts");
    await ends(findFixtures({ out: undefined, ...given, ...whereOf(given, rack), as: json ? "json" : given.as }));
  });
};

const rdmReadCommand: Family = (rdm, ends) => {
  taking(
    rdm.command("read <fixture>").description("everything one fixture says of itself, by serial number, label or UID"),
    ...one(),
    option.jsonOption(),
  ).action(async (name: string, { rack, ...given }) => {
    const { readOne } = await import("./rdm-settings.ts");
    await ends(readOne(name, { ...given, ...whereOf(given, rack) }));
  });
};

const rdmSettingsCommand: Family = (rdm, ends) => {
  taking(
    rdm
      .command("settings <fixture>")
      .description("what was changed in its menu since it was last saved; put back after a yes"),
    ...one(),
  ).action(async (name: string, { rack, ...given }) => {
    const { settingsOf } = await import("./rdm-settings.ts");
    await ends(settingsOf(name, { ...given, ...whereOf(given, rack) }));
  });
};

const rdmIdentifyCommand: Family = (rdm, ends) => {
  taking(
    rdm.command("identify <fixture>").description("let one fixture show itself, after a yes: it may light up or move"),
    ...one(),
  ).action(async (name: string, { rack, ...given }) => {
    const { identifyOne } = await import("./rdm-commands.ts");
    await ends(identifyOne(name, { ...given, ...whereOf(given, rack) }));
  });
};

const rdmTestCommand: Family = (rdm, ends) => {
  taking(
    rdm.command("test <fixture> [number]").description("a fixture's own tests: list them, or begin one after a yes"),
    ...one(),
  ).action(async (name: string, number: string | undefined, { rack, ...given }) => {
    const { selfTest } = await import("./rdm-commands.ts");
    const which = number === undefined ? undefined : Number(number);
    await ends(selfTest(name, which, { ...given, ...whereOf(given, rack) }));
  });
};

const rdmProfileCommand: Family = (rdm, ends) => {
  taking(
    rdm.command("profile <fixture>").description("a draft of a profile from what a fixture says of its slots"),
    ...one(),
    option.outOption(),
  ).action(async (name: string, { rack, out, ...given }) => {
    const { profileFromFixture } = await import("./rdm-commands.ts");
    await ends(profileFromFixture(name, out, { ...given, ...whereOf(given, rack) }));
  });
};

const rdmAddressCommand: Family = (rdm, ends) => {
  taking(
    rdm
      .command("address <rack>")
      .description("set the rack file's addresses in the fixtures, after a yes, and read them back"),
    new Option("--output <line>", "sim: every line a simulated one (usual: what the rack file says)").default("", ""),
    option.setBySerialOption(),
  ).action(async (rack: string, { output, set = new Map() }) => {
    const { sendAddresses } = await import("../rack/rack-address.ts");
    await ends(sendAddresses(rack, { output, set }));
  });
};

/** Which lines are asked. */
const where = () => [
  option.outputOption("the rack's or the bench file's, else sim"),
  option.toOption(),
  option.universeOption(),
  option.benchOption(),
  option.profileOption(),
  option.setBySerialOption(),
];

type GivenOptions = Omit<RdmWhere, "rack" | "to" | "set"> & { readonly to?: string; readonly set?: option.BySerial };
const whereOf = ({ to, set = new Map() }: GivenOptions, rack: string | undefined) => ({ rack, to, set });

/** Which fixture is meant, and where it is plugged in. */
const one = () => [
  new Option("--rack <file>", "the rack file that it stands in"),
  ...where(),
  option.personOption(),
  option.journalOption(),
];
