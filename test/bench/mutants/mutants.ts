import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, relative, resolve } from "node:path";
import { chanceFrom } from "../../../src/sim/chance.ts";
import { type Row, row } from "../line/row.ts";
import { type Mutant, NAMED } from "./named.ts";

/** Rooms that compute only, each with the tests that should notice what is changed in it. */
const ROOMS: Readonly<Record<string, string>> = {
  "domain/statistics": "test/domain",
  "domain/trade": "test/domain",
  "data/profile": "test/data",
  "data/rack": "test/data/rack",
  plan: "test/plan",
  "run/events": "test/run/events",
  "run/machine": "test/run",
  "run/session": "test/run/session",
  "run/batch": "test/run/batch",
  "run/release": "test/run/release",
  "run/memory": "test/run/memory",
  "run/verification": "test/run/verification",
};

/** What a hand slips into: a bound by one, the other way round, the other answer, a number a little off. */
const SLIPS: readonly (readonly [pattern: RegExp, to: string])[] = [
  [/ <= /g, " < "],
  [/ >= /g, " > "],
  [/ < /g, " <= "],
  [/ > /g, " >= "],
  [/ === /g, " !== "],
  [/ && /g, " || "],
  [/ \+ /g, " - "],
  [/\btrue\b/g, "false"],
  [/\bMath\.max\b/g, "Math.min"],
];

/**
 * Mistakes made on purpose in rooms that compute only, one at a time, in a copy of the house: those that once slipped through,
 * by name, and `sampled` drawn ones of every room (`seed` says which). Where `rooms` are given, only mistakes in rooms that begin
 * so. A mistake is caught when a test fails. What is not caught is told, file and line; some of it changes nothing that anybody
 * could notice.
 */
export const mutantsBench = async (
  sampled: number,
  seed: number,
  rooms: readonly string[] = [""],
): Promise<readonly Row[]> => {
  const house = copyOfTheHouse();
  const isWanted = (file: string) => rooms.some((room) => file.startsWith(`src/${room}`));
  try {
    const byName = NAMED.filter(({ file }) => isWanted(file));
    const named = survivors(house, byName);
    const drawn = Object.entries(ROOMS).flatMap(([room, tests]) =>
      isWanted(`src/${room}`) ? drawnIn(room, tests, sampled, seed) : [],
    );
    const left = survivors(house, drawn);
    return [
      row("mistakes by name that a test catches", `of ${byName.length}`, byName.length - named.length),
      row("drawn mistakes that a test catches", `of ${drawn.length}`, drawn.length - left.length),
    ];
  } finally {
    rmSync(house, { recursive: true, force: true });
  }
};

/** The sources, tests and data files, and the packages by a link. */
const copyOfTheHouse = (): string => {
  const copy = mkdtempSync(join(tmpdir(), "limber-mutants-"));
  const left = ["node_modules", "dist", ".git"];
  cpSync(".", copy, { recursive: true, filter: (path) => !left.includes(relative(".", path)) });
  symlinkSync(resolve("node_modules"), join(copy, "node_modules"));
  return copy;
};

/** Told as it goes: a house full of tests takes its time. */
const survivors = (house: string, mutants: readonly Mutant[]): readonly Mutant[] =>
  mutants.filter((mutant) => {
    const caught = isCaught(house, mutant);
    console.error(`${caught ? "caught" : "NOT CAUGHT"}: ${mutant.file}: ${mutant.from.trim()} -> ${mutant.to.trim()}`);
    return !caught;
  });

const isCaught = (house: string, { file, from, to, tests }: Mutant): boolean => {
  const path = join(house, file);
  const before = readFileSync(path, "utf8");
  if (!before.includes(from)) throw new Error(`${file} does not say "${from}" any more: mend the list of mistakes`);
  writeFileSync(
    path,
    before.replace(from, () => to),
  );
  const vitest = join("node_modules", "vitest", "vitest.mjs");
  const { status } = spawnSync(
    process.execPath,
    [vitest, "run", "--project", "rooms", "--bail", "1", "--reporter", "dot", tests],
    { cwd: house, stdio: "ignore", env: { ...process.env, FC_NUM_RUNS: "20" } },
  );
  writeFileSync(path, before);
  return status !== 0;
};

const drawnIn = (room: string, tests: string, count: number, seed: number): readonly Mutant[] => {
  const chance = chanceFrom(seed);
  const all = readdirSync(join("src", room), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .flatMap((name) => slipsIn(join("src", room, name), tests));
  return Array.from({ length: Math.min(count, all.length) }, () => all[Math.floor(chance() * all.length)]).flatMap(
    (one) => one ?? [],
  );
};

/** One for each line of code with something to slip on. */
const slipsIn = (file: string, tests: string): readonly Mutant[] =>
  readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => !/^\s*(?:import|export type|\/?\*|\/\/|readonly)/.test(line) && line.length > 20)
    .flatMap((line, _, lines) =>
      lines.filter((one) => one === line).length > 1
        ? []
        : SLIPS.flatMap(([pattern, to]) => {
            const changed = line.replace(new RegExp(pattern.source), to);
            return changed === line ? [] : [{ file, from: line, to: changed, tests, because: dirname(file) }];
          }),
    );
