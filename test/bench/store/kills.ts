import { randomInt } from "node:crypto";
import { join } from "node:path";
import { argv } from "node:process";
import { pathToFileURL } from "node:url";
import { killAgainAndAgain } from "../../io/store/killing.ts";
import { built } from "../../kit/built.ts";
import { type Row, row, table } from "../line/row.ts";
import { inFolder } from "./rooms.ts";

const LANES = 2;

/** kill -9 at random instants of a process that appends: after each, SQLite's integrity check and a look for every event announced. */
export const killsBench = (kills = 1000): Promise<readonly Row[]> =>
  inFolder(async (folder) => {
    const lanes = Array.from({ length: LANES }, (_, lane) => {
      const instants = Array.from({ length: kills / LANES }, () => ({ line: randomInt(2, 40), turns: randomInt(60) }));
      return killAgainAndAgain(built(), join(folder, `${lane}`, "journal.db"), instants);
    });
    const tolls = await Promise.all(lanes);
    const sum = (of: (toll: (typeof tolls)[number]) => number) => tolls.reduce((total, toll) => total + of(toll), 0);
    return [
      row(
        "kill -9 while appending",
        "kills",
        sum(({ verdicts }) => verdicts.length),
      ),
      row(
        "events announced before them",
        "events",
        sum(({ announced }) => announced),
      ),
      row(
        "of these lost or changed",
        "events",
        sum(({ lost }) => lost.length),
      ),
      row(
        "integrity checks failed",
        "kills",
        sum(({ verdicts }) => verdicts.filter((verdict) => verdict !== "ok").length),
      ),
    ];
  });

if (pathToFileURL(argv[1] ?? "").href === import.meta.url) console.log(table(await killsBench()));
