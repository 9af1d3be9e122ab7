import { type Family, taking } from "../common/family.ts";
import * as option from "../common/options.ts";

/** Commands that look at data files and outputs and move nothing. */
export const dataFiles: Family = (program, ends) => {
  program
    .command("outputs")
    .description("what a DMX line can be put on")
    .action(async () => {
      const { listOutputs } = await import("./outputs.ts");
      await ends(listOutputs());
    });

  const sequences = program.command("sequence").description("test plans");
  taking(
    sequences.command("show <name>").description("what a sequence would do and cost, without moving anything"),
    option.profileOption(),
    option.benchOption(),
    option.jsonOption(),
  ).action(async (sequence, { profile, bench, json }) => {
    const { showSequence } = await import("./sequence-show.ts");
    await ends(showSequence({ profile, sequence, bench }, json));
  });
  taking(
    sequences
      .command("check <files...>")
      .description("what in a sequence is wrong or of little use, and what to write instead"),
    option.benchOption(),
  ).action(async (files: readonly string[], { bench }) => {
    const { checkSequences } = await import("./sequence-check.ts");
    await ends(checkSequences(files, bench));
  });
};
