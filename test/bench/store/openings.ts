import { readdirSync } from "node:fs";
import { join } from "node:path";
import { event } from "../../io/store/event.ts";
import { type Row, row } from "../line/row.ts";
import { inFolder, openBuilt } from "./rooms.ts";

/** After so many openings everything that is loaded once is loaded. */
const WARM = 20;

/** A journal opened, written to and closed again and again in one process, as in a long shift: what stays behind. */
export const openingsBench = (openings = 200): Promise<readonly Row[]> =>
  inFolder(async (folder) => {
    const file = join(folder, "journal.db");
    const held: { readonly files: number; readonly memory: number }[] = [];
    for (let n = 1; n <= openings; n += 1) {
      const journal = await openBuilt(file);
      await journal.append(event(`${n}`));
      await journal.briefs({ kind: "all" });
      await journal.close();
      if (n === WARM || n === openings) held.push({ files: openFiles(), memory: process.memoryUsage.rss() });
    }
    const [before, after] = held;
    return [
      row("openings", "", openings),
      row(`open files after ${WARM}; after all`, "", before?.files ?? 0, after?.files),
      row(`memory after ${WARM}; after all`, "MB", (before?.memory ?? 0) / 1e6, (after?.memory ?? 0) / 1e6),
    ];
  });

/** Of this process; Linux alone tells. */
const openFiles = (): number => (process.platform === "linux" ? readdirSync("/proc/self/fd").length : 0);
