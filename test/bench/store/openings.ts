import { randomUUID } from "node:crypto";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { framedLine } from "../../../src/io/serial/framed-line.ts";
import { event } from "../../io/store/event.ts";
import { ptyPair } from "../../kit/pty.ts";
import { type Row, row } from "../line/row.ts";
import { inFolder, openBuilt } from "./rooms.ts";

/** After so many openings everything that is loaded once is loaded. */
const WARM = 20;

/** A journal, and a serial line, opened, used and closed again and again in one process, as in a long shift: what stays behind. */
export const openingsBench = async (openings = 200): Promise<readonly Row[]> => [
  ...(await inFolder((folder) => heldAfter("journal", openings, () => useJournal(join(folder, "journal.db"))))),
  ...(await heldAfter("serial line", openings, useLine)),
];

const heldAfter = async (what: string, openings: number, use: () => Promise<void>): Promise<readonly Row[]> => {
  const held: { readonly files: number; readonly memory: number }[] = [];
  for (let n = 1; n <= openings; n += 1) {
    await use();
    if (n === WARM || n === openings) held.push({ files: openFiles(), memory: process.memoryUsage.rss() });
  }
  const [before, after] = held;
  return [
    row(`${what}: openings`, "", openings),
    row(`${what}: open files after ${WARM}; after all`, "", before?.files ?? 0, after?.files),
    row(`${what}: memory after ${WARM}; after all`, "MB", (before?.memory ?? 0) / 1e6, (after?.memory ?? 0) / 1e6),
  ];
};

const useJournal = async (file: string): Promise<void> => {
  const journal = await openBuilt(file);
  await journal.append(event(randomUUID()));
  await journal.briefs({ kind: "all" });
  await journal.close();
};

/** Every time another interface on another cable. */
const useLine = async (): Promise<void> => {
  let heard = () => {};
  const first = new Promise<void>((resolve) => {
    heard = resolve;
  });
  const cable = ptyPair(() => heard());
  const line = framedLine(cable.path);
  await line.open(() => {});
  cable.taken();
  line.send(new Uint8Array(512));
  await first;
  await line.close();
  cable.pullOut();
  await cable.gone;
};

/** Of this process; Linux alone tells. */
const openFiles = (): number => (process.platform === "linux" ? readdirSync("/proc/self/fd").length : 0);
