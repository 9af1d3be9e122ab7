import { exchangeAndKill } from "../../io/share/killing.ts";
import { built } from "../../kit/built.ts";
import { ownPostgres } from "../../kit/postgres.ts";
import { type Row, row } from "../line/row.ts";
import { inFolder } from "../store/rooms.ts";

/** Three benches as processes, so many rounds, or fewer when the minutes are over: each ends in a kill -9, and in most the server falls or connections are cut. */
export const shareKilledBench = async (rounds: number, minutes: number): Promise<readonly Row[]> => {
  const until = performance.now() + minutes * 60_000;
  const server = await ownPostgres();
  try {
    return await inFolder(async (folder) => {
      const toll = await exchangeAndKill(built(), folder, server, rounds, () => performance.now() > until);
      return [
        row("benches killed with kill -9", "", toll.rounds * 3),
        row("events announced as stored", "", toll.announced),
        row("of them missing at any bench in the end", "", toll.lost.length),
        row("events that are anywhere twice", "", toll.twice.length),
        row("benches whose tables differ", "", new Set(toll.tables).size - 1),
        row("breaks in any chain", "", toll.findings),
        row("exchanges that went through; were cut", "", toll.exchanged, toll.failed),
      ];
    });
  } finally {
    await server.remove();
  }
};
