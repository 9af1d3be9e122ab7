import { Option } from "commander";
import { type Family, taking } from "../common/command.ts";
import * as option from "../common/options.ts";

/** Commands about profiles: one kind of fixture in one mode. */
export const profiles: Family = (program, ends) => {
  const profile = program.command("profile").description("kinds of fixture");
  profileCheckCommand(profile, ends);
  profileVerifyCommand(profile, ends);
  profileNewCommand(profile, ends);
  profileImportCommand(profile, ends);
};

const profileCheckCommand: Family = (profile, ends) => {
  profile
    .command("check <files...>")
    .description("what in a profile is wrong, or would mislead, and what to write instead")
    .action(async (files: readonly string[]) => {
      const { checkProfiles } = await import("./profile-check.ts");
      await ends(checkProfiles(files));
    });
};

const profileVerifyCommand: Family = (profile, ends) => {
  taking(
    profile
      .command("verify <file>")
      .alias("prove")
      .description("tries a profile out on a good fixture and puts right what is wrong in it"),
    option.outputOption("the bench file's, else sim"),
    option.toOption(),
    option.benchOption(),
    option.universeOption(),
    option.addressOption(),
    option.personOption(),
    option.journalOption(),
    option.setOption(),
  )
    .option("--really <profile>", "what the simulated fixture really is, for practice")
    .option("--times", "only the times that matter, by the stopwatch, in one go", false)
    .action(async (file: string, { set, to, really, times, ...given }) => {
      const { proveProfile } = await import("./profile-prove.ts");
      const order = {
        ...given,
        file,
        to,
        really,
        timesOnly: times,
        set: option.faultsToSet(set),
        watcher: undefined,
        fast: false,
      };
      await ends(proveProfile(order));
    });
};

const profileNewCommand: Family = (profile, ends) => {
  profile
    .command("new")
    .description("asks for a profile slot by slot, from the chart in the manual, and writes it")
    .option("--out <file>", "where to write it; what is there already is never overwritten")
    .action(async ({ out }: { readonly out?: string }) => {
      const { newProfile } = await import("./profile-new.ts");
      await ends(newProfile(out));
    });
};

const profileImportCommand: Family = (profile, ends) => {
  taking(
    profile
      .command("import <path>")
      .description(
        "a maker's GDTF file: lists its modes, or makes a profile of one. A folder of such files, or an MVR scene: profiles for the shop's library, and a rack file of the scene",
      ),
    new Option("--mode <name>", "which of its modes"),
    option.outOption(),
  )
    .option(
      "--replace",
      "let profiles of other files take the place of those in the library; measured values stay",
      false,
    )
    .action(async (path: string, { mode, out, replace }) => {
      const { importAny } = await import("./import-any.ts");
      await ends(importAny({ path, mode, out, replace }));
    });
};
