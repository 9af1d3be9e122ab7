import { Option } from "commander";
import { type Family, taking } from "../common/command.ts";
import * as option from "../common/options.ts";

/** Commands that read or look after all that the journal keeps. */
export const memory: Family = (program, ends) => {
  historyCommand(program, ends);
  labelCommand(program, ends);
  stockCommand(program, ends);
  exportCommand(program, ends);
  rebuildCommand(program, ends);
  backupCommand(program, ends);
  const journal = program
    .command("journal")
    .description("the journal as a file: whether it was changed, what can be saved of it");
  journalCheckCommand(journal, ends);
  journalAcceptCommand(journal, ends);
  journalRescueCommand(journal, ends);
};

const historyCommand: Family = (program, ends) => {
  taking(
    program.command("history <serial>").description("a fixture from run to run: what failed, was found, came back"),
    option.journalOption(),
    option.formOption(["text", "json", "html"]),
    option.outOption(),
    option.jsonOption(),
  ).action(async (serial, { json, ...given }) => {
    const { showHistory } = await import("./fixtures-and-runs.ts");
    await ends(showHistory(serial, { out: undefined, ...given, as: json ? "json" : given.as }));
  });
};

const labelCommand: Family = (program, ends) => {
  taking(
    program
      .command("label <serials...>")
      .description("labels to print and to scan: serial number as QR code and Code 128, verdict, level, what is due"),
    option.journalOption(),
    option.shopOption(),
    new Option("--size <size>", "of the label in mm, or sheets of A4")
      .choices(["62x29", "89x36", "a4"])
      .default("62x29"),
    option.outOption(),
  ).action(async (serials, given) => {
    const { writeLabels } = await import("./sheet.ts");
    await ends(writeLabels(serials, { out: undefined, ...given }));
  });
};

const stockCommand: Family = (program, ends) => {
  taking(
    program
      .command("stock")
      .description("every fixture as its runs left it, faults by kind, parts needed, what came back"),
    option.journalOption(),
    new Option("--simulated", "the simulated fixtures instead of the real ones").default(false),
    option.formOption(["text", "json", "csv", "html", "overview"]),
    option.outOption(),
    option.jsonOption(),
  ).action(async ({ json, ...given }) => {
    const { showStock } = await import("./fixtures-and-runs.ts");
    await ends(showStock({ out: undefined, ...given, as: json ? "json" : given.as }));
  });
};

const exportCommand: Family = (program, ends) => {
  taking(
    program.command("export").description("all runs for other programs"),
    option.journalOption(),
    new Option("--csv", "as a table of steps, inspections and findings").default(false),
    new Option("--json", "as JSON, run by run").default(false),
    new Option("--photos <folder>", "the pictures of all photos too, copied into this folder"),
    option.outOption(),
  ).action(async (given) => {
    const { exportRuns } = await import("./care.ts");
    await ends(exportRuns({ out: undefined, photos: undefined, ...given }));
  });
};

const rebuildCommand: Family = (program, ends) => {
  taking(
    program.command("rebuild").description("rebuild what is derived from the journal's events"),
    option.journalOption(),
  ).action(async ({ journal }) => {
    const { rebuild } = await import("./care.ts");
    await ends(rebuild(journal));
  });
};

const backupCommand: Family = (program, ends) => {
  taking(
    program
      .command("backup <file>")
      .description("a whole copy of the journal with its photos, also while it is in use"),
    option.journalOption(),
  ).action(async (file, { journal }) => {
    const { backup } = await import("./care.ts");
    await ends(backup(journal, file));
  });
};

const journalCheckCommand: Family = (journal, ends) => {
  taking(
    journal
      .command("check")
      .description("compare every event with the chain of its hashes, and the derived tables with the events"),
    new Option("--printed <number>", "what stands on a job sheet or label: is it in this journal?"),
    option.journalOption(),
    option.jsonOption(),
  ).action(async (given) => {
    const { checkJournal } = await import("./journal-check.ts");
    await ends(checkJournal({ printed: undefined, ...given }));
  });
};

const journalAcceptCommand: Family = (journal, ends) => {
  taking(
    journal.command("accept").description("go on although events are missing: saved with initials and the reason"),
    option.whyOption(),
    option.journalOption(),
    option.personOption(),
  ).action(async ({ why, person, journal: file }) => {
    const { acceptFindings } = await import("./journal-check.ts");
    await ends(acceptFindings(file, person, why));
  });
};

const journalRescueCommand: Family = (journal, ends) => {
  taking(
    journal
      .command("rescue <file>")
      .description("write everything that is sound in a damaged journal into a new one, and list the rest"),
    option.journalOption(),
  ).action(async (file, { journal: damaged }) => {
    const { rescue } = await import("./journal-check.ts");
    await ends(rescue(damaged, file));
  });
};

/** Commands that read what the journal keeps of runs, and add what was found by hand. */
export const keptRuns: Family = (program, ends) => {
  runsCommand(program, ends);
  sheetCommand(program, ends);
  faultsCommand(program, ends);
  lookCommand(program, ends);
  foundCommand(program, ends);
};

const runsCommand: Family = (program, ends) => {
  taking(
    program.command("runs").description("the runs in the journal"),
    option.journalOption(),
    option.jsonOption(),
  ).action(async ({ journal, json }) => {
    const { listRuns } = await import("./fixtures-and-runs.ts");
    await ends(listRuns(journal, json));
  });
};

const sheetCommand: Family = (program, ends) => {
  taking(
    program.command("sheet <run>").description("the job sheet of a run, to read, print, or stick on"),
    option.journalOption(),
    option.formOption(["text", "json", "csv", "html", "label"]),
    option.outOption(),
    option.jsonOption(),
  ).action(async (run, { json, ...given }) => {
    const { showSheet } = await import("./sheet.ts");
    await ends(showSheet(run, { out: undefined, ...given, as: json ? "json" : given.as }));
  });
};

const faultsCommand: Family = (program, ends) => {
  taking(
    program.command("faults <run>").description("what may be wrong after a run, with the numbers, and what to do next"),
    option.journalOption(),
    option.jsonOption(),
  ).action(async (run, { journal, json }) => {
    const { showFaults } = await import("./faults-show.ts");
    await ends(showFaults(journal, run, json));
  });
};

const lookCommand: Family = (program, ends) => {
  taking(
    program
      .command("look <run> <inspection> <answer>")
      .description("record what an inspection showed: good, bad or unsure"),
    option.journalOption(),
    option.personOption(),
    option.noteOption(),
  ).action(async (run, id, answer, given) => {
    const { keepLook } = await import("./by-hand.ts");
    await ends(keepLook(run, id, answer, given));
  });
};

const foundCommand: Family = (program, ends) => {
  taking(
    program
      .command("found <run> <fault>")
      .description('record what was wrong: a fault, "nothing", or "other" with a note'),
    option.journalOption(),
    option.personOption(),
    option.noteOption(),
  ).action(async (run, fault, given) => {
    const { keepFind } = await import("./by-hand.ts");
    await ends(keepFind(run, fault, given));
  });
};
