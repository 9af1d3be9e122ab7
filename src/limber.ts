import { Command, CommanderError } from "commander";
import type { Family } from "./app/common/command.ts";
import { EXIT, type ExitCode, refuse } from "./app/common/output.ts";
import { dataFiles } from "./app/files/arguments.ts";
import { playing } from "./app/fixture/arguments.ts";
import { keptRuns, memory } from "./app/journal/arguments.ts";
import { betweenRuns } from "./app/journal/between-runs-arguments.ts";
import { profiles } from "./app/profile/arguments.ts";
import { racks } from "./app/rack/arguments.ts";
import { questions } from "./app/rdm/arguments.ts";
import { shares } from "./app/share/arguments.ts";
import { shifts } from "./app/shift/arguments.ts";
import { simulatedBench } from "./app/simulated/arguments.ts";
import { hintFor, type Problem, problem } from "./domain/problem/problem.ts";
import { safeText } from "./domain/problem/shown-text.ts";

const FAMILIES: readonly Family[] = [
  simulatedBench,
  shifts,
  playing,
  keptRuns,
  betweenRuns,
  memory,
  dataFiles,
  profiles,
  racks,
  questions,
  shares,
];

/**
 * One call of the program, from its words to its exit code.
 *
 * @param words what was typed after the program's name
 */
export const limber = async (words: readonly string[]): Promise<ExitCode> => {
  let code: ExitCode = EXIT.done;
  const program = emptyProgram();
  for (const family of FAMILIES)
    family(program, async (work) => {
      code = await work;
    });
  const unknown = unknownCommand(program, words[0]);
  if (unknown !== undefined) return refuse([unknown]);
  try {
    await program.parseAsync(words, { from: "user" });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.input;
    return tell(error);
  }
};

const emptyProgram = (): Command =>
  new Command("limber")
    .description(
      "A self-test rig for moving heads: drives every function, collects what you see, names the likely part.",
    )
    .version("0.1.0")
    .exitOverride()
    .configureOutput({
      outputError: (text, write) => write(`${text.trimEnd().split("\n").map(safeText).join("\n")}\n`),
    })
    .showSuggestionAfterError()
    .configureHelp({
      // What a command was called before is still read, and not shown.
      subcommandTerm: (command) => `${command.name()} ${command.usage()}`,
      commandUsage: (command) => `${pathOf(command)} ${command.usage()}`,
    });

/** "limber rack run". */
const pathOf = (command: Command): string =>
  command.parent ? `${pathOf(command.parent)} ${command.name()}` : command.name();

/** A misspelt command is not an argument of the one that is played when none is named. */
const unknownCommand = (program: Command, word: string | undefined): Problem | undefined => {
  const known = [...program.commands.flatMap((one) => [one.name(), ...one.aliases()]), "help"];
  if (word === undefined || word.startsWith("-") || known.includes(word)) return undefined;
  return problem(word, "there is no such command", hintFor(word, known) ?? '"limber help" lists them');
};

/** The world's mistakes are said in their own words; ours are said to be ours. */
const tell = (error: unknown): ExitCode => {
  const world = error instanceof Error && ["LineError", "JournalError", "ShareError"].includes(error.name);
  const words = error instanceof Error ? error.message : String(error);
  process.stderr.write(world ? `${words}\n` : `This is a mistake in Limber, not in what you did: ${words}\n`);
  return world ? EXIT.world : EXIT.bug;
};
