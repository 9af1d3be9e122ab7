import { randomInt } from "node:crypto";
import { join } from "node:path";
import { expect, test } from "vitest";
import { built } from "../../kit/built.ts";
import { builtStore } from "./built-store.ts";
import { event } from "./event.ts";
import { ownFolder } from "./folder.ts";
import { killAgainAndAgain, killedAt } from "./killing.ts";

const dist = built();
const { openJournal } = await builtStore();
/** Far more than any computer needs: one kill costs the start of a process. */
const PATIENT = 300_000;

/** Side by side, as a child takes longer to start than to kill. */
const LANES = 2;

/** 80 + 20 here, 1000 in the bench. */
test(
  "after kill -9 at any instant all that was announced is there, whole, and appending goes on",
  async () => {
    const lanes = Array.from({ length: LANES }, async () => {
      const instants = Array.from({ length: 80 / LANES }, () => ({ line: randomInt(2, 40), turns: randomInt(60) }));
      const toll = await killAgainAndAgain(dist, join(ownFolder(), "journal.db"), instants);
      expect(toll.lost, `of ${toll.announced} announced`).toEqual([]);
      expect(new Set(toll.verdicts)).toEqual(new Set(["ok"]));
      expect(toll.announced).toBeGreaterThan(instants.length);
      expect(toll.stored).toBeGreaterThanOrEqual(toll.announced);
    });
    await Promise.all(lanes);
  },
  PATIENT,
);

test(
  "a journal killed while it was being created can be opened and used",
  async () => {
    const lanes = Array.from({ length: LANES }, async () => {
      for (let kill = 0; kill < 20 / LANES; kill++) {
        const file = join(ownFolder(), "new", "journal.db");
        const announced = await killedAt(dist, file, 0, { line: 1, turns: randomInt(400) });
        const journal = await openJournal(file);
        await journal.append(event("after"));
        const ids = (await journal.events()).map(({ id }) => id);
        await journal.close();
        expect(ids).toEqual(expect.arrayContaining([...announced, "after"]));
      }
    });
    await Promise.all(lanes);
  },
  PATIENT,
);
