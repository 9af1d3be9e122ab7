import { existsSync } from "node:fs";
import type { Argument, Command, Option } from "commander";
import { FAULT_IDS } from "../../diagnosis/model/knowledge/faults.ts";
import { INSPECTION_IDS } from "../../domain/trade/inspections.ts";
import { READING_IDS } from "../../domain/trade/readings.ts";
import { fileLibrary } from "../../io/files/files.ts";
import { openJournal } from "../../io/store/journal.ts";
import { journalPlace } from "../../io/systems.ts";
import { EXIT, type ExitCode, print } from "../common/output.ts";

/** Shells that complete commands, options and names. */
export type ShellName = "bash" | "zsh" | "fish";

/** What a journal can add: serial numbers and names of runs, newest first. Asked only when one is wanted. */
interface FromJournal {
  serials(): Promise<readonly string[]>;
  runs(): Promise<readonly string[]>;
}

/**
 * What may stand where the cursor is.
 *
 * @param program the whole tree of commands
 * @param words what was typed after the program's name; the last one, which may be empty, is to be completed
 * @returns candidates that begin with the last word, sorted; none where a shell had better offer files
 */
const completionsFor = async (
  program: Command,
  words: readonly string[],
  journal: FromJournal,
): Promise<readonly string[]> => {
  const last = words.at(-1) ?? "";
  const { command, operands, awaiting } = walked(program, words.slice(0, -1));
  const candidates = awaiting
    ? await valuesOf(awaiting, journal)
    : last.startsWith("-")
      ? command.options.flatMap(({ long, short }) => [long, short].flatMap((flag) => flag ?? []))
      : [...childrenOf(command), ...(await operandsOf(command.registeredArguments[operands], journal))];
  return [...new Set(candidates)].filter((one) => one.startsWith(last)).toSorted();
};

interface Walked {
  readonly command: Command;
  /** How many words were operands of it. */
  readonly operands: number;
  /** The option whose value is due. */
  readonly awaiting: Option | undefined;
}

const walked = (program: Command, words: readonly string[]): Walked =>
  words.reduce<Walked>(
    ({ command, operands, awaiting }, word) => {
      if (awaiting) return { command, operands, awaiting: undefined };
      const option = command.options.find(({ long, short }) => word === long || word === short);
      if (option) return { command, operands, awaiting: option.required || option.optional ? option : undefined };
      if (word.startsWith("-")) return { command, operands, awaiting };
      const child = command.commands.find((one) => one.name() === word || one.aliases().includes(word));
      return child ? { command: child, operands: 0, awaiting } : { command, operands: operands + 1, awaiting };
    },
    { command: program, operands: 0, awaiting: undefined },
  );

const childrenOf = (command: Command): readonly string[] =>
  command
    .createHelp()
    .visibleCommands(command)
    .map((one) => one.name());

const valuesOf = async (option: Option, journal: FromJournal): Promise<readonly string[]> =>
  option.argChoices ?? (await namedBy(option.attributeName(), journal));

const operandsOf = async (operand: Argument | undefined, journal: FromJournal): Promise<readonly string[]> =>
  operand?.argChoices ?? (await namedBy(operand?.name(), journal));

/** The candidates for an option or an argument, by its name. */
const namedBy = async (what: string | undefined, journal: FromJournal): Promise<readonly string[]> => {
  switch (what) {
    case "profile":
      return fileLibrary().names("profiles");
    case "sequence":
      return fileLibrary().names("sequences");
    case "bench":
      return fileLibrary().names("benches");
    case "rack":
      return fileLibrary().names("racks");
    case "shop":
      return fileLibrary().names("shops");
    case "set":
    case "fault":
      return FAULT_IDS;
    case "inspection":
      return INSPECTION_IDS;
    case "reading":
      return READING_IDS;
    case "serial":
      return await journal.serials();
    case "run":
      return await journal.runs();
    default:
      return [];
  }
};

/** Prints the candidates, one a line. Whoever presses TAB wants no message: what cannot be read offers nothing. */
export const complete = async (program: Command, words: readonly string[]): Promise<ExitCode> => {
  const found = await completionsFor(program, words, journalOf(journalPlace(process.env)));
  if (found.length > 0) print(found.join("\n"));
  return EXIT.done;
};

const journalOf = (file: string): FromJournal => {
  const briefs = async () => {
    if (!existsSync(file)) return [];
    const journal = await openJournal(file);
    try {
      return (await journal.briefs({ kind: "all" })).toReversed();
    } finally {
      await journal.close();
    }
  };
  return {
    serials: async () => (await briefs()).map(({ serial }) => serial),
    runs: async () => (await briefs()).map(({ run }) => run),
  };
};

/** A script for a shell's start-up file: it asks the program itself, so it never ages. */
export const completionScript = (shell: ShellName): string => SCRIPTS[shell];

const SCRIPTS: Readonly<Record<ShellName, string>> = {
  bash: `_limber() {
  local IFS=$'\\n'
  COMPREPLY=( $(limber complete -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null) )
}
complete -o default -F _limber limber`,
  zsh: `#compdef limber
_limber() {
  local -a found
  found=( \${(f)"$(limber complete -- "\${(@)words[2,CURRENT]}" 2>/dev/null)"} )
  if (( \${#found} )); then compadd -a found; else _files; fi
}
compdef _limber limber`,
  fish: `complete -c limber -a '(limber complete -- (commandline -opc)[2..] (commandline -ct) 2>/dev/null)'`,
};
