import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { ShareSettings } from "../../../src/app/share/settings.ts";
import { openShare } from "../../../src/io/share/server.ts";
import { openTable } from "../../../src/io/store/table.ts";
import { exchange } from "../../../src/run/sharing/exchange.ts";
import { found } from "../../io/store/killing.ts";
import { SHORT_SEQUENCE } from "../../kit/limber.ts";
import { noPostgres, type OwnPostgres, ownPostgres } from "../../kit/postgres.ts";
import type { Command } from "./killed-run.ts";

/** One kind of whole run. Every fixture is simulated, and so is whoever watches. */
export interface RunKind {
  /** About as many events as one writes. */
  readonly events: number;
  /** Where a run of another kind must be in the journal before. */
  readonly needsRun: boolean;
  begin(serial: string, before: string): Command;
  takeUp(run: string, serial: string): Command;
  /** Before the first run in a journal. */
  prepare(journal: string): Promise<void>;
  /** After the last run in it: how many of these events are not where else they belong. */
  missingElsewhere(journal: string, told: ReadonlySet<string>): Promise<number>;
  close(): Promise<void>;
}

const alone = (args: readonly string[]): Command => ({ args, typed: "" });

const RACK = `rack: small
title: Small
lines:
  - { universe: 1, output: sim }
circuits:
  A: { rating_a: 32, volts: 230, rcd: one }
rcds:
  one: { leakage_budget_ma: 15 }
groups: { broad: 3, fine: 3 }
fixtures:
  - { serial: SP-101, profile: spot-16bit, shelf: top, place: left,   universe: 1, address: 1,  circuit: A }
  - { serial: SP-102, profile: spot-16bit, shelf: top, place: middle, universe: 1, address: 31, circuit: A }
  - { serial: BM-101, profile: beam,       shelf: top, place: right,  universe: 1, address: 61, circuit: A }
`;

/** The kinds of run by name. */
export const runKinds = (folder: string): Readonly<Record<string, RunKind>> => {
  const written = (name: string, text: string): string => {
    const file = join(folder, name);
    writeFileSync(file, text);
    return file;
  };
  const short = written("short.yaml", SHORT_SEQUENCE);
  const rack = written("small.yaml", RACK);
  const sweep = (sequence: string, events: number): RunKind => ({
    events,
    needsRun: false,
    begin: (serial) => alone(["sweep", "--sequence", sequence, "--serial", serial]),
    takeUp: (run) => alone(["resume", run]),
    prepare: async () => {},
    missingElsewhere: async () => 0,
    close: async () => {},
  });
  const shift = ["shift", "--person", "KM", "--output", "sim", "--sequence", short];
  return {
    single: sweep("quick", 80),
    rack: {
      ...sweep(short, 70),
      begin: () => alone(["rack", "run", rack, "--sequence", short]),
      takeUp: (run) => alone(["rack", "resume", run]),
    },
    "check-in": sweep("check-in", 120),
    shift: {
      ...sweep(short, 25),
      // A fixture that nobody knows yet is asked for its kind and its place. Scanned again, its unfinished run goes on.
      begin: (serial) => ({ args: shift, typed: `${serial}\nspot-16bit\n\n\n.\n` }),
      takeUp: (_, serial) => ({ args: shift, typed: `${serial}\n\n.\n` }),
    },
    replay: { ...sweep(short, 25), needsRun: true, begin: (_, before) => alone(["replay", before]) },
    practice: { ...sweep(short, 40), begin: () => alone(["practice", "--rounds", "1"]) },
    shared: sharedKind(sweep(short, 25)),
  };
};

/** Why a kind cannot be had on this computer, or undefined. */
export const noKind = (name: string): string | undefined => (name === "shared" ? noPostgres() : undefined);

/** A bench whose journal is shared while it runs; in the end another bench must have all that was told. */
const sharedKind = (kind: RunKind): RunKind => {
  let server: OwnPostgres | undefined;
  const door = (url: string) => openShare({ url, shop: "own", name: "bench" });
  return {
    ...kind,
    prepare: async (journal) => {
      server ??= await ownPostgres();
      const address = `${journal}-address`;
      writeFileSync(address, server.url, { mode: 0o600 });
      const settings: ShareSettings = {
        version: 1,
        address: { kind: "file", file: address },
        shop: "own",
        name: "bench",
      };
      const joined = await door(server.url);
      await joined.migrate();
      await joined.close();
      writeFileSync(`${journal}-share.json`, JSON.stringify(settings), { mode: 0o600 });
    },
    missingElsewhere: async (journal, told) => {
      if (!server) throw new Error("Bug: nothing was prepared");
      const other = `${journal}-other.db`;
      const both = await door(server.url);
      for (const file of [journal, other]) {
        const table = openTable(file, 30);
        const { refused } = await exchange(table.share, both);
        table.close();
        if (refused.length > 0) throw new Error(`refused: ${JSON.stringify(refused)}`);
      }
      await both.close();
      const there = new Set(found(other).events.values());
      return [...told].filter((event) => !there.has(event)).length;
    },
    close: async () => server?.remove(),
  };
};
