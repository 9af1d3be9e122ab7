import { type Family, taking } from "../common/family.ts";
import * as option from "../common/options.ts";

/** Commands that read what the journal keeps of runs, and add what was found by hand. */
export const keptRuns: Family = (program, ends) => {
  taking(
    program.command("runs").description("the runs in the journal"),
    option.journalOption(),
    option.jsonOption(),
  ).action(async ({ journal, json }) => {
    const { listRuns } = await import("./history.ts");
    await ends(listRuns(journal, json));
  });

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

  taking(
    program.command("faults <run>").description("what may be wrong after a run, with the numbers, and what to do next"),
    option.journalOption(),
    option.jsonOption(),
  ).action(async (run, { journal, json }) => {
    const { showFaults } = await import("./faults-show.ts");
    await ends(showFaults(journal, run, json));
  });

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
