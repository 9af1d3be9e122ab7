import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { openHere } from "../../../src/app/journal/with-journal.ts";
import { exchangeOnce } from "../../../src/app/share/exchange-once.ts";
import type { ShareSettings } from "../../../src/app/share/settings.ts";
import { openShare } from "../../../src/io/share/server.ts";
import { toRow } from "../../../src/io/store/row.ts";
import { type JournalTable, openTable } from "../../../src/io/store/table.ts";
import { exchange } from "../../../src/run/sharing/exchange.ts";
import { event } from "../../io/store/event.ts";
import { built } from "../../kit/built.ts";
import { noPostgres, ownPostgres } from "../../kit/postgres.ts";
import { quantile } from "../line/measures.ts";
import { type Row, row } from "../line/row.ts";
import { shopRuns } from "../memory/shop.ts";
import { inFolder, longestStop, timed } from "../store/rooms.ts";
import { dayRows } from "./day.ts";

/** What sharing costs a bench, and a server that serves a thousand of them; against a PostgreSQL of its own on this computer. */
export const shareBench = async (results = 100_000, benches = 1000): Promise<readonly Row[]> => {
  const missing = noPostgres();
  if (missing) throw new Error(missing);
  const server = await ownPostgres();
  try {
    return await inFolder(async (folder) => {
      const urlFile = join(folder, "address");
      writeFileSync(urlFile, server.url, { mode: 0o600 });
      const settings: ShareSettings = {
        version: 1,
        address: { kind: "file", file: urlFile },
        shop: "own",
        name: "bench",
      };
      const door = await openShare({ url: server.url, shop: "own", name: "bench" });
      await door.migrate();
      await door.close();
      return [
        ...(await appendRows(folder, settings)),
        ...(await pullRows(folder, server.url, settings, results)),
        ...(await dayRows(server.url, benches)),
      ];
    });
  } finally {
    await server.remove();
  }
};

const APPENDS = 1000;

/** Event by event as a run writes them, with an exchange going on beside, and without. */
const appendRows = async (folder: string, settings: ShareSettings): Promise<readonly Row[]> => {
  const open: typeof openHere = (await import(join(built(), "app/journal/with-journal.js"))).openHere;
  const [on, off] = [join(folder, "on.db"), join(folder, "off.db")];
  writeFileSync(`${on}-share.json`, JSON.stringify(settings), { mode: 0o600 });
  const [ours, theirs]: [number[], number[]] = [[], []];
  const [shared, alone] = [await open(on), await open(off)];
  for (let n = 0; n < APPENDS; n++) {
    ours.push(await timed(() => shared.append(event(`${n}`))));
    theirs.push(await timed(() => alone.append(event(`${n}`))));
  }
  const stops = [shared, alone].map((journal, which) => () => longestStop(() => appendSome(journal, which)));
  const [stopOn, stopOff] = [await stops[0]?.(), await stops[1]?.()];
  const last = await timed(() => shared.close());
  await alone.close();
  return [
    ...[0.5, 0.99].map((share) =>
      row(`append with sharing on, p${share * 100}; off`, "ms", quantile(ours, share), quantile(theirs, share)),
    ),
    row("longest stop of the main thread meanwhile; off", "ms", stopOn ?? Number.NaN, stopOff),
    row(`close with the last exchange of ${APPENDS} events`, "ms", last),
  ];
};

const appendSome = async (journal: Awaited<ReturnType<typeof openHere>>, which: number): Promise<void> => {
  for (let n = 0; n < 300; n++) await journal.append(event(`more-${which}-${n}`));
};

const pullRows = async (
  folder: string,
  url: string,
  settings: ShareSettings,
  results: number,
): Promise<readonly Row[]> => {
  const [a, b] = [openTable(join(folder, "a.db"), 5), openTable(join(folder, "b.db"), 5)];
  let count = 0;
  for (const run of shopRuns(results)) {
    a.insert(run.map(toRow));
    count += run.length;
  }
  const door = await openShare({ url, shop: "own", name: "bench" });
  const pushing = await timed(() => exchange(a.share, door));
  const pulling = await timed(() => exchange(b.share, door));
  const idle = await middle(() => exchange(b.share, door));
  const run = await middle(async (n) => {
    a.insert(lateRun(n).map(toRow));
    await exchange(a.share, door);
    await exchange(b.share, door);
  });
  await door.close();
  const late = b.share.head(a.share.owns()[0] ?? "")?.number ?? 0;
  if (late < count) throw new Error(`only ${late} of ${count} events came over`);
  for (const table of [a, b]) table.close();
  return [
    row(`first push of ${results} step results (${count} events)`, "s", pushing / 1000),
    row("first pull of them by another bench, every hash checked", "s", pulling / 1000),
    row("an exchange with nothing to say", "ms", idle),
    row("a run written at one bench, until another has it", "ms", run),
    row("the same with tables and views, from start to end", "ms", await wholeOnce(folder, settings)),
  ];
};

const lateRun = (n: number) => {
  const [run = []] = [...shopRuns(1)];
  return run.map((one) => ({ ...one, run: `late-${n}`, id: `late-${n}-${one.id}` }));
};

const wholeOnce = async (folder: string, settings: ShareSettings): Promise<number> => {
  const table: JournalTable = openTable(join(folder, "c.db"), 5);
  table.insert(lateRun(9999).map(toRow));
  const took = await timed(() => exchangeOnce(table, { ...settings, shop: "another" }, join(folder, "c.db")));
  table.close();
  return took;
};

/** Of nine times, in ms. */
const middle = async (work: (n: number) => Promise<unknown>): Promise<number> => {
  const times: number[] = [];
  for (let n = 0; n < 9; n++) times.push(await timed(() => work(n)));
  return quantile(times, 0.5);
};
