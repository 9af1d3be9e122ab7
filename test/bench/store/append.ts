import { spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { argv } from "node:process";
import { pathToFileURL } from "node:url";
import { toRow } from "../../../src/io/store/row.ts";
import { openTable } from "../../../src/io/store/table.ts";
import { event } from "../../io/store/event.ts";
import { quantile } from "../line/measures.ts";
import { type Row, row, table } from "../line/row.ts";
import { inFolder, longestStop, openBuilt, openLines, timed } from "./rooms.ts";

const BURST = 50;

/** How long until an event is on disk, beside lines of JSON synced one by one; in turns, so that both meet the same disk. */
export const appendBench = (count = 2000): Promise<readonly Row[]> =>
  inFolder(async (folder) => [...(await oneByOne(folder, count)), await atOnce(folder), await locked(folder)]);

const oneByOne = async (folder: string, count: number): Promise<readonly Row[]> => {
  const [journal, lines] = [await openBuilt(join(folder, "one.db")), await openLines(join(folder, "one.jsonl"))];
  const [ours, theirs]: [number[], number[]] = [[], []];
  for (let n = 0; n < count; n++) {
    ours.push(await timed(() => journal.append(event(`${n}`))));
    theirs.push(await timed(() => lines.append(event(`${n}`))));
  }
  await Promise.all([journal.close(), lines.close()]);
  return [0.5, 0.99].map((share) =>
    row(`append, p${share * 100}`, "ms", quantile(ours, share), quantile(theirs, share)),
  );
};

const atOnce = async (folder: string): Promise<Row> => {
  const [journal, lines] = [await openBuilt(join(folder, "burst.db")), await openLines(join(folder, "burst.jsonl"))];
  const events = Array.from({ length: BURST }, (_, n) => event(`${n}`));
  const ours = await timed(() => Promise.all(events.map((each) => journal.append(each))));
  const theirs = await timed(async () => {
    for (const each of events) await lines.append(each);
  });
  await Promise.all([journal.close(), lines.close()]);
  return row(`${BURST} appends at once`, "ms", ours, theirs);
};

/** Beside the same database without a thread of its own. */
const locked = async (folder: string): Promise<Row> => {
  const [file, patience] = [join(folder, "locked.db"), 0.25];
  const [journal, plain] = [await openBuilt(file, patience), openTable(file, patience)];
  const holder = spawn(process.execPath, ["test/io/store/holder.mjs", file, "BEGIN IMMEDIATE"], { stdio: "pipe" });
  await once(holder.stdout, "data");
  const ours = await longestStop(() => journal.append(event("a")));
  const theirs = await longestStop(async () => plain.insert([toRow(event("b"))]));
  holder.stdin.end();
  await once(holder, "exit");
  plain.close();
  await journal.close();
  return row("longest stop of the frames while a lock is held 250 ms", "ms", ours, theirs);
};

if (pathToFileURL(argv[1] ?? "").href === import.meta.url) console.log(table(await appendBench()));
