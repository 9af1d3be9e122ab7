import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { program } from "../kit/built.ts";

/** A command in a fenced block of a chapter, and the lines that stand under it. */
export interface ToldCommand {
  readonly line: string;
  /** What it prints, as far as it stands there; runs, dates and hashes by their placeholders. */
  readonly prints: readonly string[];
  /** Whether more may follow: a last line of three dots. */
  readonly more: boolean;
}

const MORE = "...";

/** Blocks may be set in under an item of a list. */
const CONSOLE = /^( *)```console\n([\s\S]*?)^\1```$/gm;
const SHELL = /^( *)```sh\n([\s\S]*?)^\1```$/gm;
const unindented = (block: string, indent: string): string => block.replaceAll(new RegExp(`^${indent}`, "gm"), "");

/** The commands of all ```console blocks, in order. */
export const toldIn = (text: string): readonly ToldCommand[] =>
  [...text.matchAll(CONSOLE)].flatMap(([, indent = "", block = ""]) =>
    unindented(block, indent)
      .split(/^(?=\$ )/m)
      .filter((part) => part !== "")
      .map((part) => {
        const [first = "", ...lines] = part.trimEnd().split("\n");
        const more = lines.at(-1) === MORE;
        return { line: first.slice(2), prints: more ? lines.slice(0, -1) : lines, more };
      }),
  );

/** The lines of all ```sh blocks: commands for a real interface, a server or a person's own files. */
export const shownIn = (text: string): readonly string[] =>
  [...text.matchAll(SHELL)].flatMap(([, indent = "", block = ""]) =>
    unindented(block, indent)
      .trimEnd()
      .split("\n")
      .filter((line) => line.startsWith("limber ")),
  );

/** Commands named in a sentence or a table. */
export const namedIn = (text: string): readonly string[] =>
  [...text.replaceAll(/^( *)```[\s\S]*?^\1```$/gm, "").matchAll(/`limber ([^`]+)`/g)].map(([, line = ""]) => line);

/** A folder as a reader has it: the data files beside them, a journal of their own. */
export const reader = () => {
  const folder = mkdtempSync(join(tmpdir(), "limber-guide-"));
  for (const name of ["profiles", "sequences", "benches", "racks", "shops"])
    symlinkSync(resolve(name), join(folder, name));
  let lastRun = "";
  return {
    /** Types a line as it stands, RUN being the last run that was named; the placeholders stand in what it prints. */
    types: (line: string) => {
      const words = wordsOf(lastRun === "" ? line : line.replace("RUN", lastRun));
      const { status, stdout, stderr } = spawnSync(process.execPath, [program(), ...words.slice(1)], {
        cwd: folder,
        env: { PATH: process.env["PATH"] ?? "", HOME: folder, TZ: "UTC" },
        stdio: ["ignore", "pipe", "pipe"],
        encoding: "utf8",
        timeout: 240_000,
      });
      lastRun = RUN.exec(stdout)?.[0] ?? lastRun;
      return { status, prints: withPlaceholders(stdout + stderr, folder), stderr };
    },
    remove: () => rmSync(folder, { recursive: true }),
  };
};

/** Quotes keep words together, as in a shell. */
export const wordsOf = (line: string): readonly string[] =>
  [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain ?? "");

const RUN = /\b\d{8}-\d{4}-[0-9a-f]{6}\b/;

const withPlaceholders = (text: string, folder: string): readonly string[] =>
  text
    .replaceAll(new RegExp(RUN, "g"), "RUN")
    .replaceAll(/\b\d{4}-\d\d-\d\d \d\d:\d\d\b/g, "DATE TIME")
    .replaceAll(/\b\d{4}-\d\d-\d\d\b/g, "DATE")
    .replaceAll(/\b\d\d:\d\d\b/g, "TIME")
    .replaceAll(/\b\d+-[0-9a-f]{12}\b/g, "HEAD")
    .replaceAll(folder, "~")
    .trimEnd()
    .split("\n")
    .map((line) => line.trimEnd());

/** So many lines of what a command prints are shown when a block is filled for the first time. */
const SHOWN = 14;

/** Writes what the commands of a chapter really print into it, as many lines as stood there. */
export const renew = (file: string, printed: readonly (readonly string[])[]): void => {
  const rest = [...printed];
  const text = readFileSync(file, "utf8").replaceAll(CONSOLE, (_, indent: string, block: string) => {
    const parts = toldIn(`\`\`\`console\n${unindented(block, indent)}\`\`\``).map(({ line, prints, more }) => {
      const lines = rest.shift() ?? [];
      const shown = more ? lines.slice(0, prints.length || SHOWN) : lines;
      return [`$ ${line}`, ...shown, ...(shown.length < lines.length ? [MORE] : [])].join("\n");
    });
    return `\`\`\`console\n${parts.join("\n")}\n\`\`\``.replaceAll(/^(?=.)/gm, indent);
  });
  writeFileSync(file, text);
};
