import { randomInt } from "node:crypto";
import { existsSync, rmSync } from "node:fs";
import { join } from "node:path";
import { openTable } from "../../../src/io/store/table.ts";
import { type RunEvent, runEvent } from "../../../src/run/events/event.ts";
import { rackViewOf } from "../../../src/run/events/rack-view.ts";
import { viewOf } from "../../../src/run/events/view.ts";
import { found } from "../../io/store/killing.ts";
import { type Row, row } from "../line/row.ts";
import { type Command, type Instant, limberUntil, type Outcome } from "./killed-run.ts";
import { inFolder } from "./rooms.ts";
import { noKind, type RunKind, runKinds } from "./run-kinds.ts";

/** In thirds: anywhere in the run, soon after the start, and while it starts. */
const SOON = 6;
const MOST_MS_LATER = 20;
const MOST_MS_STARTING = 1500;
/** A resumed run is killed again and again; one time in so many it may go on to its end. */
const LEFT_ALONE_IN = 6;
/** Every look reads the whole journal, so there is a new one every now and then. */
const RUNS_IN_JOURNAL = 3;

/**
 * Whole simulated runs of every kind, killed at random instants and resumed to their end; every event that was told to be
 * on disk is looked for after every kill. Kinds take turns, until there were so many kills or the time is over.
 */
export const runsKilledBench = (kills: number, minutes: number, names?: readonly string[]): Promise<readonly Row[]> =>
  inFolder(async (folder) => {
    const until = performance.now() + minutes * 60_000;
    const tolls = tolled(folder, names);
    const sum = () => tolls.reduce((all, { toll }) => all + toll.kills, 0);
    for (let turn = 0; sum() < kills && performance.now() < until; turn++) {
      const { name, kind, toll } = tolls[turn % tolls.length]!;
      await oneJournal(folder, `${name}-${turn}`, kind, toll);
    }
    for (const { kind } of tolls) await kind.close();
    return [
      row("kill -9 of whole runs, all kinds", "kills", sum()),
      ...tolls.flatMap(({ name, toll }) => tollRows(name, toll)),
    ];
  });

/** The kinds that are wanted and can be had here. */
const tolled = (folder: string, names: readonly string[] | undefined) =>
  Object.entries(runKinds(folder))
    .filter(([name]) => names?.includes(name) ?? true)
    .filter(([name]) => {
      const missing = noKind(name);
      if (missing) console.error(`${name} is left out: ${missing}`);
      return !missing;
    })
    .map(([name, kind]) => ({ name, kind, toll: noToll() }));

interface Toll {
  kills: number;
  /** Of these before anything of the run was on disk. */
  early: number;
  finished: number;
  told: number;
  readonly lost: Set<string>;
  resumed: number;
  unfinished: number;
  damaged: number;
  missingElsewhere: number;
}

const noToll = (): Toll => ({
  kills: 0,
  early: 0,
  finished: 0,
  told: 0,
  lost: new Set(),
  resumed: 0,
  unfinished: 0,
  damaged: 0,
  missingElsewhere: 0,
});

const tollRows = (name: string, toll: Toll): readonly Row[] => [
  row(`${name}: kills; of them before anything of the run was on disk`, "", toll.kills, toll.early),
  row(`${name}: times resumed; runs that came to their end, every step judged`, "", toll.resumed, toll.finished),
  row(`${name}: events told to be on disk; of these lost or changed`, "", toll.told, toll.lost.size),
  row(`${name}: runs that did not end; journals damaged`, "", toll.unfinished, toll.damaged),
  ...(name === "shared"
    ? [row(`${name}: events told that another bench has not in the end`, "", toll.missingElsewhere)]
    : []),
];

type Play = (command: Command, instant: Instant | undefined) => Promise<Outcome>;

/** Some runs in a journal of their own, each from its first event to its last, however often it is killed on the way. */
const oneJournal = async (folder: string, name: string, kind: RunKind, toll: Toll): Promise<void> => {
  const file = join(folder, `${name}.db`);
  await kind.prepare(file);
  const told = new Map<string, string>();
  const play: Play = async ({ args, typed }, instant) => {
    const watched = { args: [...args, "--watcher", "1", ...fast(args), "--journal", file], typed };
    const outcome = await limberUntil(folder, watched, instant);
    for (const { id, event } of outcome.stored) told.set(id, event);
    if (outcome.how === "killed") toll.kills++;
    look(file, told, toll);
    return outcome;
  };
  if (kind.needsRun) await play(runKinds(folder)["shift"]!.begin("BEFORE", ""), undefined);
  const before = openedIn(file)[0] ?? "";
  for (let n = 0; n < RUNS_IN_JOURNAL; n++) await oneRun(play, { kind, file, serial: `K-${n}`, before, toll });
  toll.told += told.size;
  toll.missingElsewhere += await kind.missingElsewhere(file, new Set(told.values()));
  if (existsSync(file)) checkChain(file, toll);
  for (const tail of ["", "-wal", "-shm", "-head"]) rmSync(file + tail, { force: true });
};

/** Practice with the simulated watcher is always faster than real time. */
const fast = (args: readonly string[]): readonly string[] => (args[0] === "practice" ? [] : ["--fast"]);

interface Undertaken {
  readonly kind: RunKind;
  readonly file: string;
  readonly serial: string;
  /** A whole run that was there before. */
  readonly before: string;
  readonly toll: Toll;
}

const oneRun = async (play: Play, { kind, file, serial, before, toll }: Undertaken): Promise<void> => {
  const known = new Set(openedIn(file));
  const first = await play(kind.begin(serial, before), anyInstant(kind));
  const run = openedIn(file).find((one) => !known.has(one));
  if (run === undefined) {
    toll.early++;
    if (first.how !== "killed") complain(toll, "nothing was begun", first);
    return;
  }
  for (let last = first; !isFinished(file, run); ) {
    if (last.how === "ended by itself") {
      complain(toll, run, last);
      return;
    }
    toll.resumed++;
    last = await play(kind.takeUp(run, serial), randomInt(LEFT_ALONE_IN) > 0 ? anyInstant(kind) : undefined);
  }
  toll.finished++;
};

const complain = (toll: Toll, run: string, { code, complaint }: Outcome): void => {
  toll.unfinished++;
  console.error(`${run}: ended with ${code}: ${complaint}`);
};

const anyInstant = ({ events }: RunKind): Instant => {
  const which = randomInt(3);
  if (which === 0) return { stored: 0, later: randomInt(MOST_MS_STARTING) };
  return { stored: 1 + randomInt(which === 1 ? SOON : events), later: randomInt(MOST_MS_LATER) };
};

/** After every process: whole, and with everything in it that was ever told. */
const look = (file: string, told: ReadonlyMap<string, string>, toll: Toll): void => {
  if (!existsSync(file)) {
    for (const id of told.keys()) toll.lost.add(id);
    return;
  }
  const { verdict, events } = found(file);
  if (verdict !== "ok") toll.damaged++;
  for (const [id, event] of told) if (events.get(id) !== event) toll.lost.add(id);
};

const checkChain = (file: string, toll: Toll): void => {
  const table = openTable(file, 30);
  const { findings } = table.check.chain(undefined, 1_000_000);
  table.close();
  if (findings.length === 0) return;
  toll.damaged++;
  console.error(`${file}: ${JSON.stringify(findings)}`);
};

const eventsIn = (file: string): readonly RunEvent[] =>
  existsSync(file) ? [...found(file).events.values()].map((text) => runEvent.parse(JSON.parse(text))) : [];

/** Runs that can be taken up: a rack's own by its name, not those of its fixtures. */
const openedIn = (file: string): readonly string[] =>
  eventsIn(file).flatMap(({ body, run }) => {
    if (body.kind !== "run-opened") return [];
    return [body.rack ?? run];
  });

const isFinished = (file: string, run: string): boolean => {
  const all = eventsIn(file);
  const bodies = (name: string) => all.flatMap((event) => (event.run === name ? [event.body] : []));
  const own = bodies(run);
  const rack = rackViewOf(own);
  if (rack.opened) return rack.closed === "finished" && rack.members.every((one) => wasJudged(bodies(one.run)));
  return wasJudged(own);
};

const wasJudged = (bodies: readonly RunEvent["body"][]): boolean => {
  const view = viewOf(bodies);
  return view.closed === "finished" && view.steps.every(({ judged }) => judged);
};
