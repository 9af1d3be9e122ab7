import { randomInt } from "node:crypto";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { found } from "../../io/store/killing.ts";
import { mount, noSmallDisk, unmount } from "../../io/store/small-mount.ts";
import { heldFor, interfaceAt, workplace } from "../../mishaps/at-work.ts";
import { type Row, row } from "../line/row.ts";
import { noKind } from "../store/run-kinds.ts";
import { type Day, type DayKind, dayKinds, left, toMovement } from "./day-kinds.ts";
import { CLOCK_JUMPS, MISHAPS, OF_THE_LINE } from "./mishaps.ts";

/** On a busy computer the last frames come late, and some are left out. */
const LEAST_HELD = 2;

interface Toll {
  struck: number;
  failed: number;
  told: number;
}

/**
 * Whole runs of every kind on a serial line (a pseudo-terminal with an independent reader; practice has a simulated one),
 * each struck by one mishap at a random moment of its first movement. After each: nothing that was told to be on disk is
 * lost, the run ends as it should, and the last frames are dark and hold. So many rounds of every mishap for every kind,
 * each round in an order of its own, or until the minutes are over.
 */
export const badDayBench = async (
  rounds: number,
  minutes: number,
  wanted: readonly string[] | undefined,
): Promise<readonly Row[]> => {
  const missing = noSmallDisk();
  if (missing) throw new Error(missing);
  const until = performance.now() + minutes * 60_000;
  const folder = mkdtempSync(join(tmpdir(), "limber-bad-day-"));
  const { kinds, close } = dayKinds(folder);
  const names = (wanted ?? Object.keys(kinds)).filter((name) => isThere(name, kinds));
  const pairs = names.flatMap((name) => mishapsFor(kinds[name]!).map((mishap) => [name, mishap] as const));
  const [byMishap, byKind] = [new Map<string, Toll>(), new Map<string, Toll>()];
  try {
    for (let round = 0; round < rounds; round++)
      for (const [name, mishap] of shuffled(pairs)) {
        if (performance.now() > until) break;
        const toll = await strike(name, kinds[name]!, mishap);
        add(byMishap, mishap, toll);
        add(byKind, name, toll);
      }
  } finally {
    await close();
    rmSync(folder, { recursive: true, force: true });
  }
  return [...byMishap, ...byKind].flatMap(([name, { struck, failed, told }]) => [
    row(`${name}: runs struck; not ended as they should, or not dark and still`, "", struck, failed),
    row(`${name}: events told to be on disk, each looked for and found`, "", told),
  ]);
};

const isThere = (name: string, kinds: Readonly<Record<string, DayKind>>): boolean => {
  if (!kinds[name]) throw new Error(`no kind "${name}"; known: ${Object.keys(kinds).join(", ")}`);
  const missing = noKind(name);
  if (missing !== undefined) console.error(`${name} is left out: ${missing}`);
  return missing === undefined;
};

type MishapName = keyof typeof MISHAPS;

const mishapsFor = ({ line }: DayKind): readonly MishapName[] =>
  (Object.keys(MISHAPS) as MishapName[]).filter((name) => line === "cable" || !OF_THE_LINE.includes(name));

const shuffled = <T>(all: readonly T[]): readonly T[] =>
  all
    .map((one) => ({ one, at: randomInt(2 ** 32) }))
    .toSorted((a, b) => a.at - b.at)
    .map(({ one }) => one);

const add = (tolls: Map<string, Toll>, name: string, { struck, failed, told }: Toll): void => {
  const sum = tolls.get(name) ?? { struck: 0, failed: 0, told: 0 };
  tolls.set(name, { struck: sum.struck + struck, failed: sum.failed + failed, told: sum.told + told });
};

const strike = async (name: string, kind: DayKind, mishap: MishapName): Promise<Toll> => {
  const tidy: (() => void)[] = [];
  try {
    const told = await struck(kind, mishap, (one) => tidy.push(one));
    console.error(`${name}, ${mishap}: well`);
    return { struck: 1, failed: 0, told };
  } catch (error) {
    console.error(`${name}, ${mishap}: ${error instanceof Error ? error.message : String(error)}`);
    return { struck: 1, failed: 1, told: 0 };
  } finally {
    for (const one of tidy.reverse()) one();
  }
};

/** How many events were told to be on disk, all of them there. Throws where anything is not as it should be. */
const struck = async (kind: DayKind, mishap: MishapName, afterwards: (tidy: () => void) => void): Promise<number> => {
  const disk = join(workplace(afterwards).folder, "disk");
  mkdirSync(disk);
  mount(disk, 4000);
  afterwards(() => unmount(disk));
  const place = workplace(afterwards, disk);
  const cable = interfaceAt(place.folder, afterwards);
  const toldFile = join(place.folder, "told");
  const loaded = [resolve("test/bench/store/tell-stored.mjs"), CLOCK_JUMPS].map((file) => `--import ${file}`).join(" ");
  const day: Day = {
    place,
    cable,
    start: (args) => place.command(args, { NODE_OPTIONS: loaded, TOLD: toldFile }),
  };
  await kind.around.prepare(place.journal);
  const run = day.start(await kind.begin(day));
  await toMovement(run, day);
  await wait(randomInt(3000));
  const ends = kind.ends(await MISHAPS[mishap]({ run, cable, disk }));
  const code = await left(run);
  if (!ends.includes(code)) throw new Error(`ended with ${code}, not ${ends.join(" or ")}:\n${run.screen()}`);
  // What is still on its way comes in a moment.
  await wait(1000);
  const held = heldFor(cable.packets);
  if (kind.line === "cable" && held < LEAST_HELD) throw new Error(`ended with ${code}, ${held} packets dark and still`);
  const told = lookFor(toldFile, place.journal);
  const elsewhere = await kind.around.missingElsewhere(place.journal, told);
  if (elsewhere > 0) throw new Error(`${elsewhere} events are not at the other bench`);
  return told.size;
};

const lookFor = (toldFile: string, journal: string): ReadonlySet<string> => {
  const lines = existsSync(toldFile) ? readFileSync(toldFile, "utf8").trim().split("\n") : [];
  const told = lines.map((line) => JSON.parse(line) as { readonly id: string; readonly event: string });
  if (told.length === 0) throw new Error("nothing was told to be on disk");
  // Looked for in a copy, which needs its own room.
  rmSync(join(dirname(journal), "filler"), { force: true });
  const { verdict, events } = found(journal);
  if (verdict !== "ok") throw new Error(`the journal is damaged: ${String(verdict)}`);
  const lost = told.filter(({ id, event }) => events.get(id) !== event);
  if (lost.length > 0) throw new Error(`lost: ${lost.map(({ id }) => id).join(", ")}`);
  return new Set(told.map(({ event }) => event));
};
