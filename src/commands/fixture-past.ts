import type { Journal } from "../ports.ts";
import type { BodyOf, RunEvent } from "../record/event.ts";
import { isNameless } from "../record/no-serial.ts";
import { type RunView, viewOf } from "../record/view.ts";
import { historyOf } from "../release/history.ts";
import type { Standing } from "../release/standing.ts";
import { beforeAndAfter, type Compared } from "../report/before-after.ts";

type Opened = BodyOf<"run-opened">;

/** Everything written of this fixture, of its real runs or of its simulated ones, as this run is. */
export const eventsOfFixture = async (
  journal: Journal,
  { fixture, simulated }: Opened,
): Promise<readonly RunEvent[]> => {
  if (isNameless(fixture.serial)) return [];
  const runs = await journal.briefs({ kind: "fixture", serial: fixture.serial });
  const events: RunEvent[] = [];
  for (const { run } of runs.filter((one) => one.simulated === simulated)) events.push(...(await journal.events(run)));
  const inTime = events.toSorted((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
  return historyOf(inTime, fixture.serial);
};

/** Where the fixture of a run stands over all its runs; undefined for one that nobody can tell from others. */
export const standingNow = async (journal: Journal, { fixture }: Opened): Promise<Standing | undefined> =>
  (await journal.standings({ kind: "fixture", serial: fixture.serial })).get(fixture.serial);

/** A replay beside the run that it plays again; nothing for any other run. */
export const comparedIn = async (journal: Journal, view: RunView): Promise<readonly Compared[]> => {
  const { opened } = view;
  if (opened?.replays === undefined) return [];
  const before = await journal.events(opened.replays);
  if (before.length === 0) return [];
  return beforeAndAfter(viewOf(before.map(({ body }) => body)), view, await eventsOfFixture(journal, opened));
};
