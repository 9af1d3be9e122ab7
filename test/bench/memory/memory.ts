import { spawnSync } from "node:child_process";
import { statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { argv } from "node:process";
import { pathToFileURL } from "node:url";
import { learn, wholeTrade } from "../../../src/diagnosis/model/learn.ts";
import { identityKey } from "../../../src/domain/problem/identity.ts";
import type { FileJournal } from "../../../src/io/store/journal.ts";
import { tellHistory } from "../../../src/reports/history-text.ts";
import { tellStock } from "../../../src/reports/stock-text.ts";
import { fixtureHistoryOf } from "../../../src/run/memory/history.ts";
import { stockOf } from "../../../src/run/memory/stock.ts";
import { program } from "../../kit/built.ts";
import { SHORT_SEQUENCE } from "../../kit/limber.ts";
import { quantile } from "../line/measures.ts";
import { type Row, row, table } from "../line/row.ts";
import { inFolder, openBuilt, timed } from "../store/rooms.ts";
import { serialOf, shopRuns } from "./shop.ts";

/** What a shop's memory costs with so many step results in its journal. */
export const memoryBench = (results = 100_000): Promise<readonly Row[]> =>
  inFolder(async (folder) => {
    const file = join(folder, "shop.db");
    const filling = await timed(() => fill(file, results));
    const bare = statSync(file).size;
    const journal = await openBuilt(file);
    const folding = await timed(() => journal.rebuild());
    const reads = await readRows(journal);
    await journal.close();
    return [
      row(`write ${results} step results, run by run`, "s", filling / 1000),
      row("size of the journal; without its derived tables", "MB", statSync(file).size / 1e6, bare / 1e6),
      row("derived tables made anew from all events", "s", folding / 1000),
      ...reads,
      ...(await appendRows(folder, file)),
      ...commandRows(folder, file),
    ];
  });

const fill = async (file: string, results: number): Promise<void> => {
  const journal = await openBuilt(file);
  for (const events of shopRuns(results)) await Promise.all(events.map((event) => journal.append(event)));
  await journal.close();
};

const ALL = { kind: "all" } as const;

/** Beside going through every event, as a journal without derived tables must. */
const readRows = async (journal: FileJournal): Promise<readonly Row[]> => {
  const serial = serialOf(0);
  const fixture = { kind: "fixture", serial } as const;
  const history = await middle(async () =>
    tellHistory(
      fixtureHistoryOf(
        serial,
        await journal.briefs(fixture),
        (await journal.standings(fixture)).get(identityKey(serial)),
      )!,
    ),
  );
  const stock = await middle(async () =>
    tellStock(stockOf(await journal.briefs(ALL), await journal.standings(ALL), "real")),
  );
  const learning = await middle(async () => learn(wholeTrade(), await journal.cases()));
  return [
    row("history of one fixture", "ms", history, await timed(() => journal.events())),
    row("stock", "ms", stock),
    row("what the shop's finds teach", "ms", learning),
  ];
};

/** Of five times, in ms. */
const middle = async (work: () => Promise<unknown>): Promise<number> => {
  const times: number[] = [];
  for (let n = 0; n < 5; n++) times.push(await timed(work));
  return quantile(times, 0.5);
};

const APPENDS = 40;

/** Event by event, and what taking in a finished run costs; beside an empty journal whose tables nobody asked for. */
const appendRows = async (folder: string, file: string): Promise<readonly Row[]> => {
  const [full, empty] = [await openBuilt(file), await openBuilt(join(folder, "empty.db"))];
  const [ours, theirs, catching]: [number[], number[], number[]] = [[], [], []];
  for (const [n, run] of [...shopRuns(35 * APPENDS)].entries()) {
    for (const event of run) {
      const fresh = { ...event, run: `late-${n}`, id: `late-${event.id}` };
      ours.push(await timed(() => full.append(fresh)));
      theirs.push(await timed(() => empty.append(fresh)));
    }
    catching.push(await timed(() => full.briefs({ kind: "named", beginning: "late-0" })));
  }
  await Promise.all([full.close(), empty.close()]);
  return [
    ...[0.5, 0.99].map((share) =>
      row(
        `append beside the derived tables, p${share * 100}; without`,
        "ms",
        quantile(ours, share),
        quantile(theirs, share),
      ),
    ),
    row("take in one finished run", "ms", quantile(catching, 0.5)),
  ];
};

/** As a user waits for them, start of the program included; beside an empty journal. */
const commandRows = (folder: string, file: string): readonly Row[] => {
  const sequence = join(folder, "short.yaml");
  writeFileSync(sequence, SHORT_SEQUENCE);
  const limber = (journal: string, ...args: readonly string[]): number => {
    const start = performance.now();
    const { status, stderr } = spawnSync(process.execPath, [program(), ...args, "--journal", journal], {
      encoding: "utf8",
      env: { ...process.env, HOME: folder },
    });
    if (status !== 0) throw new Error(`limber ${args.join(" ")}: ${stderr}`);
    return performance.now() - start;
  };
  const sweep = ["sweep", "--watcher", "1", "--fast", "--sequence", sequence, "--serial", "A-1"];
  const fresh = join(folder, "fresh.db");
  return [
    row(
      "a short sweep in no real time, from start to job sheet",
      "ms",
      limber(file, ...sweep),
      limber(fresh, ...sweep),
    ),
    row("limber history", "ms", limber(file, "history", serialOf(0)), limber(fresh, "history", "A-1")),
    row("limber stock", "ms", limber(file, "stock"), limber(fresh, "stock")),
  ];
};

if (pathToFileURL(argv[1] ?? "").href === import.meta.url) console.log(table(await memoryBench()));
