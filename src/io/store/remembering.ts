import type { Case } from "../../diagnosis/model/case.ts";
import { casesOf } from "../../run/events/digest.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import type { Journal } from "../../run/ports.ts";
import type { ReleaseStatus } from "../../run/release/release-status.ts";
import type { FoldProgress } from "./fold.ts";
import type { Thread } from "./thread.ts";

/** So few that an append meanwhile does not wait long for its turn. */
const AT_A_TIME = 300;
const FIXTURES_AT_A_TIME = 5;

/** How much was read, and what came of it. */
export interface Rebuilt {
  readonly events: number;
  readonly runs: number;
  readonly fixtures: number;
}

/** The reads that do not go through every event: they take in what is new, then read what is kept ready. */
export const remembering = (
  thread: Thread,
  told: ToldProgress,
): Pick<Journal, "briefs" | "cases" | "standings" | "openElsewhere"> & { rebuild(): Promise<Rebuilt> } => {
  const briefs: Journal["briefs"] = async (which) => {
    const kept = await levelled(thread, told, (least) => thread.ask({ kind: "briefs", which, least }));
    return kept.map((json) => summaryIn(json));
  };
  const standings: Journal["standings"] = async (which) => {
    let done = 0;
    const ask = async (least: number) => {
      const now = await thread.ask({ kind: "standings", which, least, most: FIXTURES_AT_A_TIME });
      if (now?.kind === "all") return now.rows;
      if (now === undefined) return undefined;
      done += FIXTURES_AT_A_TIME;
      told(done, now.left, "fixtures");
      return undefined;
    };
    const rows = await levelled(thread, told, ask);
    if (done > 0) told(rows.length, 0, "fixtures");
    return new Map(rows.map(([serial, json]) => [serial, statusIn(json)]));
  };
  return {
    briefs,
    cases: async () => {
      const { lessons, passedAgain } = await levelled(thread, told, (least) => thread.ask({ kind: "teaching", least }));
      return casesOf(
        lessons.map(({ run, lesson }) => ({ run, lesson: caseIn(lesson) })),
        new Set(passedAgain),
      );
    },
    standings,
    openElsewhere: async () =>
      new Set(await levelled(thread, told, (least) => thread.ask({ kind: "open-elsewhere", least }))),
    rebuild: async () => {
      const { left } = await thread.ask({ kind: "forget" });
      const fixtures = (await standings({ kind: "all" })).size;
      return { events: left, runs: (await briefs({ kind: "all" })).length, fixtures };
    },
  };
};

/** More to do, or another program has thrown the tables away in between: then once more. */
const levelled = async <T>(
  thread: Thread,
  told: ToldProgress,
  read: (least: number) => Promise<T | undefined>,
): Promise<T> => {
  for (;;) {
    const kept = await read((await level(thread, told)).upto);
    if (kept !== undefined) return kept;
  }
};

/** Hears how many events have been taken in, or fixtures calculated, and how many are left, where it takes more than a moment. */
export type ToldProgress = (done: number, left: number, of: "events" | "fixtures") => void;

/** Takes all new events into the derived tables, step by step, so that appends come between. */
export const level = async (thread: Thread, told: ToldProgress): Promise<FoldProgress> => {
  let [taken, before] = [0, 0];
  for (;;) {
    const progress = await thread.ask({ kind: "catch-up", most: AT_A_TIME });
    taken += before === 0 ? 0 : before - progress.left;
    before = progress.left;
    if (taken > 0) told(taken, progress.left, "events");
    if (progress.left === 0) return progress;
  }
};

/** Reads a row that this program folded itself: rows with a false checksum were folded again before. */
const summaryIn = (json: string): RunSummary => JSON.parse(json);
const statusIn = (json: string): ReleaseStatus => JSON.parse(json);
const caseIn = (json: string): Case => JSON.parse(json);
