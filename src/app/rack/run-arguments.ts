import { Option } from "commander";
import { type Family, runName, taking } from "../common/family.ts";
import * as option from "../common/options.ts";
import { withPhone } from "../phone/with-phone.ts";

/** Commands that move a whole rack, below "rack". */
export const rackRuns: Family = (rack, ends) => {
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
    const { resumeRack } = await import("./rack-resume.ts");
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
