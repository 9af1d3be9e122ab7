import { Option } from "commander";
import { type Family, runName, taking, withPhone } from "../common/command.ts";
import * as option from "../common/options.ts";

/** Commands about fixtures plugged up together; those in this file move nothing. */
export const racks: Family = (program, ends) => {
  const rack = program.command("rack").description("fixtures plugged up together");
  rackCheckCommand(rack, ends);
  rackAddressCommand(rack, ends);
  rackLettersCommand(rack, ends);
  rackImportCommand(rack, ends);
  rackReadingsCommand(rack, ends);
  rackMovedCommand(rack, ends);
  rackRuns(rack, ends);
};

const rackCheckCommand: Family = (rack, ends) => {
  rack
    .command("check <file>")
    .description("everything wrong with a rack file at once; else its loads, and the order to switch it on")
    .action(async (file) => {
      const { checkRackFile } = await import("./rack-file.ts");
      await ends(checkRackFile(file));
    });
};

const rackAddressCommand: Family = (rack, ends) => {
  taking(
    rack
      .command("address <file>")
      .description(
        "an address for every fixture, without overlaps: the list to set them by; with --write set over the cable too, after a yes",
      ),
    new Option("--keep", "leave the addresses that are there alone").default(false),
    writeOption(),
    new Option("--output <line>", "sim: every line a simulated one (usual: what the rack file says)").default("", ""),
    option.setBySerialOption(),
    option.rdmOption(),
  ).action(async (file, { keep, write, output, rdm, set = new Map() }) => {
    const { addressRack } = await import("./rack-address.ts");
    const order = { existing: keep ? "keep" : "anew", deliver: write ? "write" : "print" } as const;
    await ends(addressRack(file, { ...order, output, rdm, set }));
  });
};

const rackLettersCommand: Family = (rack, ends) => {
  taking(
    rack.command("letters <file>").description("strips to tape on: the letter of every fixture in a rack run"),
    option.benchOption(),
  ).action(async (file, { bench }) => {
    const { rackLetters } = await import("./rack-file.ts");
    await ends(rackLetters(file, bench));
  });
};

const rackImportCommand: Family = (rack, ends) => {
  taking(
    rack.command("import <table>").description("a rack file from a table: serial, profile, place, universe, address"),
    option.outOption(),
  ).action(async (table, { out }) => {
    const { importRack } = await import("./rack-file.ts");
    await ends(importRack(table, out));
  });
};

const rackReadingsCommand: Family = (rack, ends) => {
  taking(
    rack
      .command("readings <file> <table>")
      .description("light, colour and travel times read of a rack's fixtures side by side, and the suspects"),
    option.formOption(["text", "json", "html"]),
    option.outOption(),
    option.jsonOption(),
  ).action(async (file, table, { json, ...given }) => {
    const { showReadings } = await import("./rack-file.ts");
    await ends(showReadings(file, table, { out: undefined, ...given, as: json ? "json" : given.as }));
  });
};

const rackMovedCommand: Family = (rack, ends) => {
  taking(
    rack
      .command("moved <file> <answers...>")
      .description(
        "who really moved when one was asked (ASKED=MOVED, ASKED= for nobody): finds the addresses really set",
      ),
    writeOption(),
  ).action(async (file, answers, { write }) => {
    const { correctRack } = await import("./rack-file.ts");
    await ends(correctRack(file, answers, write ? "write" : "print"));
  });
};

const writeOption = () =>
  new Option("--write", "write them into the rack file, and change nothing else in it").default(false);

/** Commands that move a whole rack, below "rack". */
const rackRuns: Family = (rack, ends) => {
  taking(
    rack.command("run <file>").description("play a sequence on a whole rack: groups first, then the suspects alone"),
    option.sequenceOption(),
    option.benchOption(),
    ...carrying(),
  ).action(async (file, { sequence, bench, ...given }) => {
    const { runRack } = await import("./rack-run.ts");
    const names = { rack: file, sequence, bench };
    await ends(withPhone(given, (phone) => runRack(names, { ...given, phone, ...notAlways(given), run: runName() })));
  });

  taking(
    rack.command("identify <file>").description("which fixture is really where: one address after the other wiggles"),
    option.benchOption(),
    new Option("--write", "put the addresses that were found into the rack file").default(false),
    ...carrying(),
  ).action(async (file, { write, ...given }) => {
    const { identifyRack } = await import("./rack-identify.ts");
    const deliver = write ? "write" : "print";
    await ends(
      withPhone(given, (phone) =>
        identifyRack(file, { ...given, phone, ...notAlways(given), deliver, run: runName() }),
      ),
    );
  });

  taking(
    rack.command("resume <run>").description("continue an unfinished rack run where it stopped"),
    ...carrying(),
  ).action(async (run, given) => {
    const { resumeRack } = await import("./rack-run.ts");
    await ends(withPhone(given, (phone) => resumeRack(run, { ...given, phone, ...notAlways(given), run: "" })));
  });

  taking(
    rack.command("sheet <run>").description("the results of a rack run, one line for each fixture"),
    option.journalOption(),
    option.formOption(["text", "json", "csv", "html"]),
    option.outOption(),
    option.jsonOption(),
  ).action(async (run, { json, ...given }) => {
    const { showRackSheet } = await import("./rack-sheet.ts");
    await ends(showRackSheet(run, { out: undefined, ...given, as: json ? "json" : given.as }));
  });
};

/** How a rack run is carried out. */
const carrying = () => [
  new Option("--output <line>", "sim: every line a simulated one (usual: what the rack file says)").default("", ""),
  option.personOption(),
  ...option.severalFixturesOptions(),
  option.jsonOption(),
];

const notAlways = ({ watcher, set = new Map() }: { readonly watcher?: number; readonly set?: option.BySerial }) => ({
  watcher,
  set,
});
