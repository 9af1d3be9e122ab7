#!/usr/bin/env node
import { randomBytes } from "node:crypto";
import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import { EXIT, type ExitCode } from "./commands/exit.ts";

const program = new Command("limber")
  .description("A self-test rig for moving heads: drives every function, collects what you see, names the likely part.")
  .version("0.1.0")
  .exitOverride()
  .showSuggestionAfterError();

let code: ExitCode = EXIT.done;
const ends = async (work: ExitCode | Promise<ExitCode>): Promise<void> => {
  code = await work;
};

const whole = (text: string): number => {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError("a whole number is wanted.");
  return Number(text);
};
const listed = (text: string, before: readonly string[] | undefined): readonly string[] => [
  ...(before ?? []),
  ...text.split(","),
];
const profileOption = () =>
  new Option("--profile <name>", "kind of fixture and mode: a name or a file").default("spot-16bit");
const sequenceOption = () => new Option("--sequence <name>", "test plan: a name or a file").default("quick");
const benchOption = () => new Option("--bench <name>", "this bench: a name or a file").default("bench");
const addressOption = () => new Option("--address <slot>", "start address").argParser(whole).default(1);

program
  .command("start", { isDefault: true })
  .description("the simulated bench: something is wrong with the fixture, find it")
  .addOption(profileOption())
  .addOption(sequenceOption())
  .addOption(benchOption())
  .addOption(addressOption())
  .addOption(
    new Option(
      "--set <fault>",
      'what is wrong with the simulated fixture; "none" for nothing, several with commas',
    ).argParser(listed),
  )
  .addOption(
    new Option("--watcher <seed>", "let the simulated watcher watch; the seed says what it notices").argParser(whole),
  )
  .option("--fast", "in no real time, with the simulated watcher")
  .option("--json", "print the job sheet as JSON")
  .action(async (given) => {
    const { startUnattended } = await import("./commands/start.ts");
    const set = given.set?.filter((id: string) => id !== "none");
    const names = { profile: given.profile, sequence: given.sequence, bench: given.bench };
    await ends(
      startUnattended({
        names,
        address: given.address,
        set,
        seed: given.watcher ?? 1,
        run: runName(),
        json: given.json ?? false,
      }),
    );
  });

const sequence = program.command("sequence").description("test plans");
sequence
  .command("show <name>")
  .description("what a sequence would do and cost, without moving anything")
  .addOption(profileOption())
  .addOption(benchOption())
  .option("--json", "print as JSON")
  .action(async (name, given) => {
    const { showSequence } = await import("./commands/sequence-show.ts");
    await ends(showSequence({ profile: given.profile, sequence: name, bench: given.bench }, given.json ?? false));
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
