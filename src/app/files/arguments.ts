import { Argument, type Command, Option } from "commander";
import { type Family, taking } from "../common/command.ts";
import * as option from "../common/options.ts";
import type { ShellName } from "./completion.ts";
import type { KindOfNames } from "./names.ts";

const KINDS_OF_NAMES: readonly KindOfNames[] = [
  "faults",
  "inspections",
  "measurements",
  "hold-points",
  "symptoms",
  "functions",
  "routines",
  "words",
  "profiles",
  "sequences",
  "benches",
  "racks",
  "shops",
];
const SHELLS: readonly ShellName[] = ["bash", "zsh", "fish"];

/** Commands that look at data files and outputs and move nothing. */
export const dataFiles: Family = (program, ends) => {
  outputsCommand(program, ends);
  doctorCommand(program, ends);
  guideCommand(program, ends);
  namesCommand(program, ends);
  completionCommand(program);
  completeCommand(program, ends);
  const sequence = program.command("sequence").description("test plans");
  sequenceShowCommand(sequence, ends);
  sequenceCheckCommand(sequence, ends);
};

const outputsCommand: Family = (program, ends) => {
  program
    .command("outputs")
    .description("what a DMX line can be put on")
    .action(async () => {
      const { listOutputs } = await import("./this-computer.ts");
      await ends(listOutputs());
    });
};

const doctorCommand: Family = (program, ends) => {
  taking(
    program
      .command("doctor")
      .description("what this computer has and lacks for a run, each with what to do; nothing moves"),
    option.outputOption("no interface is asked"),
    option.toOption(),
    option.journalOption(),
    option.jsonOption(),
  ).action(async (order) => {
    const { doctor } = await import("./this-computer.ts");
    await ends(doctor({ to: undefined, ...order }));
  });
};

const guideCommand: Family = (program, ends) => {
  taking(
    program
      .command("guide [chapter]")
      .description("how the work goes, chapter by chapter; every command and every file with its keys"),
    option.formOption(["text", "html"]),
    new Option("--open", "show the whole guide in the browser").default(false),
    option.outOption(),
  ).action(async (chapter: string | undefined, given) => {
    const { guide } = await import("./guide.ts");
    await ends(Promise.resolve(guide(program, { out: undefined, ...given, chapter })));
  });
};

const namesCommand: Family = (program, ends) => {
  taking(
    program
      .command("names")
      .description("what a command, a file or an answer may name, each with what it means")
      .addArgument(new Argument("<kind>", "which names").choices(KINDS_OF_NAMES)),
    new Option("--profile <name>", "only what this kind of fixture has: a name or a file"),
    new Option("--find <word>", "only what has this word in it"),
    option.jsonOption(),
  ).action(async (kind: KindOfNames, { profile, find, json }) => {
    const { showNames } = await import("./names.ts");
    await ends(showNames(kind, { profile, find, json }));
  });
};

const completionCommand = (program: Command): void => {
  program
    .command("completion")
    .description("a script that lets your shell complete commands, options and names")
    .addArgument(new Argument("<shell>", "source what is printed in the shell's start-up file").choices(SHELLS))
    .action(async (shell: ShellName) => {
      const { completionScript } = await import("./completion.ts");
      const { print } = await import("../common/output.ts");
      print(completionScript(shell));
    });
};

const completeCommand: Family = (program, ends) => {
  program.command("complete [words...]", { hidden: true }).action(async (words: readonly string[]) => {
    const { complete } = await import("./completion.ts");
    await ends(complete(program, words));
  });
};

const sequenceShowCommand: Family = (sequence, ends) => {
  taking(
    sequence.command("show <sequence>").description("what a sequence would do and cost, without moving anything"),
    option.profileOption(),
    option.benchOption(),
    option.jsonOption(),
  ).action(async (sequence, { profile, bench, json }) => {
    const { showSequence } = await import("./sequence.ts");
    await ends(showSequence({ profile, sequence, bench }, json));
  });
};

const sequenceCheckCommand: Family = (sequence, ends) => {
  taking(
    sequence
      .command("check <files...>")
      .description("what in a sequence is wrong or of little use, and what to write instead"),
    option.benchOption(),
  ).action(async (files: readonly string[], { bench }) => {
    const { checkSequences } = await import("./sequence.ts");
    await ends(checkSequences(files, bench));
  });
};
