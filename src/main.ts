#!/usr/bin/env node
import { randomBytes } from "node:crypto";
import { Command, CommanderError } from "commander";
import { EXIT, type ExitCode } from "./commands/exit.ts";
import * as option from "./commands/options.ts";
import { safeText } from "./problem/terminal.ts";

const program = new Command("limber")
  .description("A self-test rig for moving heads: drives every function, collects what you see, names the likely part.")
  .version("0.1.0")
  .exitOverride()
  .configureOutput({
    outputError: (text, write) => write(text.trimEnd().split("\n").map(safeText).join("\n").concat("\n")),
  })
  .showSuggestionAfterError();

let code: ExitCode = EXIT.done;
const ends = async (work: ExitCode | Promise<ExitCode>): Promise<void> => {
  code = await work;
};

program
  .command("start", { isDefault: true })
  .description("the simulated bench: something is wrong with the fixture, find it")
  .addOption(option.profileOption())
  .addOption(option.anySequenceOption())
  .addOption(option.benchOption())
  .addOption(option.addressOption())
  .addOption(option.setOption())
  .addOption(option.watcherOption())
  .addOption(option.fastOption())
  .addOption(option.jsonOption())
  .addOption(option.handsOffOption())
  .addOption(option.plainOption())
  .addOption(option.distanceOption())
  .action(async ({ profile, sequence, bench, set, watcher, fast, handsOff, ...given }) => {
    const { startOnScreen, startUnattended } = await import("./commands/start.ts");
    const { hasTerminal } = await import("./commands/person.ts");
    const alone = fast || watcher !== undefined || !(hasTerminal() || given.plain);
    const names = { profile, sequence: sequence ?? (alone ? "quick" : "first-look"), bench };
    const drawFrom = alone || sequence !== undefined ? "all" : "plain-to-see";
    const seed = watcher ?? (alone ? 1 : randomBytes(4).readUInt32LE());
    const order = { ...given, names, set: option.faultsToSet(set), seed, drawFrom, run: runName() } as const;
    await ends(alone ? startUnattended(order) : startOnScreen({ ...order, mode: handsOff ? "hands-off" : "attended" }));
  });

program
  .command("sweep")
  .description("play a sequence on a fixture and keep what came of it")
  .addOption(option.outputOption("sim", "DMX line: serial:PATH or sim"))
  .addOption(option.profileOption())
  .addOption(option.sequenceOption())
  .addOption(option.benchOption())
  .addOption(option.universeOption())
  .addOption(option.addressOption())
  .addOption(option.serialOption())
  .addOption(option.personOption())
  .addOption(option.handsOffOption())
  .addOption(option.journalOption())
  .addOption(option.setOption())
  .addOption(option.watcherOption())
  .addOption(option.fastOption())
  .addOption(option.plainOption())
  .addOption(option.distanceOption())
  .addOption(option.jsonOption())
  .action(async ({ profile, sequence, bench, handsOff, set, ...given }) => {
    const { sweep } = await import("./commands/sweep.ts");
    const names = { profile, sequence, bench };
    const mode = handsOff ? "hands-off" : "attended";
    await ends(sweep({ ...given, names, mode, set: option.faultsToSet(set), watcher: given.watcher, run: runName() }));
  });

for (const [name, words] of [
  ["resume", "go on with an unfinished run at its open step"],
  ["replay", "play a kept run once more, the very same movements"],
] as const)
  program
    .command(`${name} <run>`)
    .description(words)
    .addOption(option.outputOption("", "another DMX line than the run's own"))
    .addOption(option.personOption())
    .addOption(option.journalOption())
    .addOption(option.setOption())
    .addOption(option.watcherOption())
    .addOption(option.fastOption())
    .addOption(option.plainOption())
    .addOption(option.distanceOption())
    .addOption(option.jsonOption())
    .action(async (run, { set, ...given }) => {
      const commands = await import("./commands/sweep.ts");
      await ends(
        commands[name](run, { ...given, set: option.faultsToSet(set), watcher: given.watcher, run: runName() }),
      );
    });

program
  .command("runs")
  .description("the runs in the journal")
  .addOption(option.journalOption())
  .addOption(option.jsonOption())
  .action(async ({ journal, json }) => {
    const { listRuns } = await import("./commands/runs.ts");
    await ends(listRuns(journal, json));
  });

program
  .command("sheet <run>")
  .description("the job sheet of a run")
  .addOption(option.journalOption())
  .addOption(option.jsonOption())
  .action(async (run, { journal, json }) => {
    const { showSheet } = await import("./commands/sheet.ts");
    await ends(showSheet(journal, run, json));
  });

program
  .command("faults <run>")
  .description("what may be wrong after a run, with the numbers, and what to do next")
  .addOption(option.journalOption())
  .addOption(option.jsonOption())
  .action(async (run, { journal, json }) => {
    const { showFaults } = await import("./commands/faults-show.ts");
    await ends(showFaults(journal, run, json));
  });

program
  .command("look <run> <inspection> <answer>")
  .description("keep what a look by hand showed: good, bad or unsure")
  .addOption(option.journalOption())
  .addOption(option.personOption())
  .addOption(option.noteOption())
  .action(async (run, id, answer, given) => {
    const { keepLook } = await import("./commands/by-hand.ts");
    await ends(keepLook(run, id, answer, given));
  });

program
  .command("found <run> <fault>")
  .description('keep what turned out to be wrong: a fault, "nothing", or "other" with a note')
  .addOption(option.journalOption())
  .addOption(option.personOption())
  .addOption(option.noteOption())
  .action(async (run, fault, given) => {
    const { keepFind } = await import("./commands/by-hand.ts");
    await ends(keepFind(run, fault, given));
  });

program
  .command("outputs")
  .description("what a DMX line can be put on")
  .action(async () => {
    const { listOutputs } = await import("./commands/outputs.ts");
    await ends(listOutputs());
  });

program
  .command("sequence")
  .description("test plans")
  .command("show <name>")
  .description("what a sequence would do and cost, without moving anything")
  .addOption(option.profileOption())
  .addOption(option.benchOption())
  .addOption(option.jsonOption())
  .action(async (sequence, { profile, bench, json }) => {
    const { showSequence } = await import("./commands/sequence-show.ts");
    await ends(showSequence({ profile, sequence, bench }, json));
  });

program
  .command("trial")
  .description("set every fault in the simulated fixture and count how often the right answer is named")
  .addOption(option.profileOption())
  .addOption(option.sequenceOption())
  .addOption(option.benchOption())
  .addOption(option.runsOption())
  .addOption(option.seedOption())
  .addOption(option.jsonOption())
  .action(async ({ profile, sequence, bench, runs, seed, json }) => {
    const { trial } = await import("./commands/trial.ts");
    await ends(trial({ names: { profile, sequence, bench }, runs, seed, json }));
  });

/** Sorts by time, tells two benches apart, and is short enough to be read aloud. */
const runName = (): string => {
  const time = new Date().toISOString().replaceAll(/[-:]/g, "").replace("T", "-").slice(0, 13);
  return `${time}-${randomBytes(3).toString("hex")}`;
};

const main = async (): Promise<ExitCode> => {
  try {
    await program.parseAsync();
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.input;
    return tell(error);
  }
};

/** The world's mistakes are said in their own words; ours are said to be ours. */
const tell = (error: unknown): ExitCode => {
  const world = error instanceof Error && (error.name === "LineError" || error.name === "JournalError");
  const words = error instanceof Error ? error.message : String(error);
  process.stderr.write(world ? `${words}\n` : `This is a mistake in Limber, not in what you did: ${words}\n`);
  return world ? EXIT.world : EXIT.bug;
};

process.exitCode = await main();
