import { InvalidArgumentError, Option } from "commander";
import { type Family, taking } from "../common/command.ts";
import * as option from "../common/options.ts";

/** Commands for what is done with a fixture between its runs: repaired, measured, signed off or held back; and what its cleaning takes. */
export const betweenRuns: Family = (program, ends) => {
  repairedCommand(program, ends);
  readingCommand(program, ends);
  signCommand(program, ends);
  holdCommand(program, ends);
  liftCommand(program, ends);
  secondOpinionCommand(program, ends);
  cleanPlanCommand(program, ends);
};

const repairedCommand: Family = (program, ends) => {
  taking(
    program.command("repaired <serial> <fault>").alias("mended").description('record a repair; "other" with a note'),
    new Option("--part <words>", "part used").default(""),
    new Option("--minutes <number>", "minutes it took").argParser(option.whole).default(0),
    option.journalOption(),
    option.personOption(),
    option.noteOption(),
  ).action(async (serial, fault, given) => {
    const { mended } = await import("./between-runs.ts");
    await ends(mended(serial, fault, given));
  });
};

const readingCommand: Family = (program, ends) => {
  taking(
    program
      .command("reading <serial> <reading> <verdict>")
      .description("record what a competent person measured: within or outside the local rule's limit"),
    new Option("--value <number>", "what was measured").argParser(measured),
    option.journalOption(),
    option.personOption(),
    option.noteOption(),
  ).action(async (serial, reading, verdict, given) => {
    const { takeReading } = await import("./between-runs.ts");
    await ends(takeReading(serial, reading, { ...given, value: given.value, verdict }));
  });
};

const measured = (text: string): number => {
  const value = Number(text.replace(",", "."));
  if (text.trim() === "" || !Number.isFinite(value) || value < 0)
    throw new InvalidArgumentError("It must be a number, such as 0.08.");
  return value;
};

const signCommand: Family = (program, ends) => {
  taking(
    program.command("sign <serial>").description("release a fixture, or list everything that blocks its release"),
    new Option("--level <name>", "at this level (usual: the most thorough that is possible)"),
    option.shopOption(),
    option.journalOption(),
    option.personOption(),
    option.noteOption(),
  ).action(async (serial, given) => {
    const { sign } = await import("./between-runs.ts");
    await ends(sign(serial, { level: undefined, ...given }));
  });
};

const holdCommand: Family = (program, ends) => {
  taking(
    program
      .command("hold <serial>")
      .alias("quarantine")
      .description("hold a fixture back, in your own words: it is not released before somebody lifts it"),
    option.whyOption(),
    option.journalOption(),
    option.personOption(),
  ).action(async (serial, { why, ...given }) => {
    const { holdBack } = await import("./between-runs.ts");
    await ends(holdBack(serial, why, { ...given, note: "" }));
  });
};

const liftCommand: Family = (program, ends) => {
  taking(
    program.command("lift <serial>").description("a fixture is no longer held back, and why"),
    option.whyOption(),
    option.journalOption(),
    option.personOption(),
  ).action(async (serial, { why, ...given }) => {
    const { liftHold } = await import("./between-runs.ts");
    await ends(liftHold(serial, why, { ...given, note: "" }));
  });
};

const secondOpinionCommand: Family = (program, ends) => {
  taking(
    program
      .command("second-opinion <serial> <inspection>")
      .description("a second person inspected it and sees no danger: who and why; then inspect it again"),
    option.whyOption(),
    option.journalOption(),
    option.personOption(),
  ).action(async (serial, inspection, { why, ...given }) => {
    const { secondOpinion } = await import("./between-runs.ts");
    await ends(secondOpinion(serial, inspection, why, { ...given, note: "" }));
  });
};

const cleanPlanCommand: Family = (program, ends) => {
  taking(
    program
      .command("clean-plan <fixtures...>")
      .description(
        "what cleaning takes: PROFILE, or PROFILE:NUMBER:DIRT for several (light, ordinary, heavy, pyrotechnic)",
      ),
    option.jsonOption(),
  ).action(async (fixtures, { json }) => {
    const { cleanPlan } = await import("./clean-plan.ts");
    await ends(cleanPlan(fixtures, json));
  });
};
