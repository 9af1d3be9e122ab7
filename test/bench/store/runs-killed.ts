import { randomInt } from "node:crypto";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { argv } from "node:process";
import { pathToFileURL } from "node:url";
import { runEvent } from "../../../src/run/events/event.ts";
import { viewOf } from "../../../src/run/events/view.ts";
import { found } from "../../io/store/killing.ts";
import { type Row, row, table } from "../line/row.ts";
import { type Instant, limberUntil, type Outcome } from "./killed-run.ts";
import { inFolder } from "./rooms.ts";

/** About as many events as a quick check writes. */
const EVENTS = 80;
const MOST_MS_LATER = 20;
/** Of the resumed runs, one in so many is killed as well, and resumed again. */
const AGAIN_IN = 3;

/** Whole simulated runs killed at random instants and resumed to their end; every event that was told to be on disk is looked for. */
export const runsKilledBench = (kills = 100): Promise<readonly Row[]> =>
  inFolder(async (folder) => {
    const toll = await killRuns(folder, kills);
    return [
      row("kill -9 of whole runs", "kills", toll.kills),
      row("of these before the run was on disk", "kills", toll.beforeBegun),
      row("of these after the run was closed", "kills", toll.afterClosed),
      row("over before the kill came", "runs", toll.over),
      row("runs begun", "runs", toll.begun),
      row("times resumed", "runs", toll.resumed),
      row("events told to be on disk", "events", toll.told.size),
      row("of these lost or changed", "events", toll.lost.size),
      row("runs that did not come to their end, every step judged", "runs", toll.unfinished),
      row("integrity checks failed", "checks", toll.damaged),
    ];
  });

interface Toll {
  kills: number;
  beforeBegun: number;
  afterClosed: number;
  over: number;
  begun: number;
  resumed: number;
  unfinished: number;
  damaged: number;
  readonly told: Map<string, string>;
  readonly lost: Set<string>;
}

const NOTHING = { kills: 0, beforeBegun: 0, afterClosed: 0, over: 0, begun: 0, resumed: 0, unfinished: 0, damaged: 0 };

const killRuns = async (folder: string, kills: number): Promise<Toll> => {
  const toll: Toll = { ...NOTHING, told: new Map(), lost: new Set() };
  const file = join(folder, "journal.db");
  const play: Play = async (args, instant) => {
    const outcome = await limberUntil(folder, [...args, "--watcher", "1", "--fast", "--journal", file], instant);
    for (const { id, event } of outcome.stored) toll.told.set(id, event);
    if (outcome.how === "killed") toll.kills++;
    look(file, toll);
    return outcome;
  };
  for (let n = 0; toll.kills < kills; n++) await oneRun(play, file, `K-${n}`, toll);
  return toll;
};

type Play = (args: readonly string[], instant: Instant | undefined) => Promise<Outcome>;

/** From its first event to its last, however often it is killed on the way. */
const oneRun = async (play: Play, file: string, serial: string, toll: Toll): Promise<void> => {
  const { how } = await play(["sweep", "--sequence", "quick", "--serial", serial], anyInstant());
  const run = runOf(file, serial);
  if (run === undefined) toll.beforeBegun++;
  else toll.begun++;
  if (how === "ended by itself") toll.over++;
  else if (run !== undefined && isFinished(file, run)) toll.afterClosed++;
  else if (run !== undefined) await toItsEnd(play, file, run, toll);
};

const toItsEnd = async (play: Play, file: string, run: string, toll: Toll): Promise<void> => {
  for (;;) {
    toll.resumed++;
    const { how, code, complaint } = await play(["resume", run], randomInt(AGAIN_IN) > 0 ? undefined : anyInstant());
    if (isFinished(file, run)) return;
    if (how === "killed") continue;
    toll.unfinished++;
    console.error(`${run} ended with ${code}: ${complaint}`);
    return;
  }
};

const anyInstant = (): Instant => ({ stored: randomInt(EVENTS), later: randomInt(MOST_MS_LATER) });

/** After every process: whole, and with everything in it that was ever told. */
const look = (file: string, toll: Toll): void => {
  if (!existsSync(file)) return;
  const { verdict, events } = found(file);
  if (verdict !== "ok") toll.damaged++;
  for (const [id, event] of toll.told) if (events.get(id) !== event) toll.lost.add(id);
};

const bodiesIn = (file: string) =>
  existsSync(file) ? [...found(file).events.values()].map((text) => runEvent.parse(JSON.parse(text))) : [];

const runOf = (file: string, serial: string): string | undefined =>
  bodiesIn(file).find(({ body }) => body.kind === "run-opened" && body.fixture.serial === serial)?.run;

const isFinished = (file: string, run: string): boolean => {
  const view = viewOf(bodiesIn(file).flatMap((event) => (event.run === run ? [event.body] : [])));
  return view.closed === "finished" && view.steps.every(({ judged }) => judged);
};

if (pathToFileURL(argv[1] ?? "").href === import.meta.url) console.log(table(await runsKilledBench()));
