import { randomInt } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { found } from "../../io/store/killing.ts";
import { mount, noSmallDisk, unmount } from "../../io/store/small-mount.ts";
import { farthest, heldFor, interfaceAt, type Workplace, workplace } from "../../mishaps/at-work.ts";
import { type Row, row } from "../line/row.ts";
import { CLOCK_JUMPS, MISHAPS } from "./mishaps.ts";

/** On a busy computer the last frames come late, and some are left out. */
const LEAST_HELD = 2;

type Mishap = (typeof MISHAPS)[keyof typeof MISHAPS];

interface Toll {
  struck: number;
  failed: number;
  told: number;
}

/** How a run of that kind is begun on an output. */
const KINDS: Readonly<Record<string, (place: Workplace, output: string) => readonly string[]>> = {
  single: ({ sequence }, output) => ["sweep", "--ask-each", "--output", output, "--sequence", sequence],
  rack: ({ folder, sequence }, output) => {
    const rack = join(folder, "rack.yaml");
    writeFileSync(rack, RACK.replace("OUTPUT", JSON.stringify(output)));
    return ["rack", "run", rack, "--sequence", sequence];
  },
};

const RACK = `rack: small
title: Small
lines: [{ universe: 1, output: OUTPUT }]
fixtures:
  - { serial: A-1, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 1 }
`;

/**
 * Whole runs on a serial line (a pseudo-terminal with an independent reader), each struck by one mishap at a random moment
 * of its first movement. After each: nothing that was told to be on disk is lost, the run ends as it should, and the last
 * frames are dark and hold. So many rounds of every mishap for every kind, or until the minutes are over.
 */
export const badDayBench = async (rounds: number, minutes: number): Promise<readonly Row[]> => {
  const missing = noSmallDisk();
  if (missing) throw new Error(missing);
  const until = performance.now() + minutes * 60_000;
  const tolls = new Map(Object.keys(MISHAPS).map((name): [string, Toll] => [name, { struck: 0, failed: 0, told: 0 }]));
  for (let round = 0; round < rounds; round++)
    for (const [name, mishap] of Object.entries(MISHAPS))
      for (const kind of Object.keys(KINDS)) if (performance.now() < until) await strike(kind, name, mishap, tolls);
  return [...tolls].flatMap(([name, { struck, failed, told }]) => [
    row(`${name}: runs struck; not ended as they should, or not dark and still`, "", struck, failed),
    row(`${name}: events told to be on disk, each looked for and found`, "", told),
  ]);
};

const strike = async (kind: string, name: string, mishap: Mishap, tolls: ReadonlyMap<string, Toll>): Promise<void> => {
  const toll = tolls.get(name)!;
  const tidy: (() => void)[] = [];
  toll.struck++;
  try {
    toll.told += await struck(kind, mishap, (one) => tidy.push(one));
    console.error(`${kind}, ${name}: well`);
  } catch (error) {
    toll.failed++;
    console.error(`${kind}, ${name}: ${error instanceof Error ? error.message : String(error)}`);
  } finally {
    for (const one of tidy.reverse()) one();
  }
};

/** How many events were told to be on disk, all of them there. Throws where anything is not as it should be. */
const struck = async (kind: string, mishap: Mishap, afterwards: (tidy: () => void) => void): Promise<number> => {
  const disk = join(workplace(afterwards).folder, "disk");
  mkdirSync(disk);
  mount(disk, 2000);
  afterwards(() => unmount(disk));
  const place = workplace(afterwards, disk);
  const cable = interfaceAt(place.folder, afterwards);
  const toldFile = join(place.folder, "told");
  const loaded = [resolve("test/bench/store/tell-stored.mjs"), CLOCK_JUMPS].map((file) => `--import ${file}`).join(" ");
  const run = place.command(KINDS[kind]!(place, cable.output), { NODE_OPTIONS: loaded, TOLD: toldFile });
  await run.until("BEFORE ANYTHING MOVES");
  run.type("c");
  while (farthest(cable.packets.slice(-20)) === 0) await wait(50);
  await wait(randomInt(3000));
  const ends = await mishap({ run, cable, disk });
  const code = await run.ended;
  if (!ends.includes(code)) throw new Error(`ended with ${code}, not ${ends.join(" or ")}:\n${run.screen()}`);
  // What is still on its way comes in a moment.
  await wait(1000);
  const held = heldFor(cable.packets);
  if (held < LEAST_HELD) throw new Error(`ended with ${code}, ${held} packets dark and still`);
  return lookFor(toldFile, place.journal);
};

const lookFor = (toldFile: string, journal: string): number => {
  const lines = existsSync(toldFile) ? readFileSync(toldFile, "utf8").trim().split("\n") : [];
  const told = lines.map((line) => JSON.parse(line) as { readonly id: string; readonly event: string });
  if (told.length === 0) throw new Error("nothing was told to be on disk");
  // Looked for in a copy, which needs its own room.
  rmSync(join(dirname(journal), "filler"), { force: true });
  const { verdict, events } = found(journal);
  if (verdict !== "ok") throw new Error(`the journal is damaged: ${String(verdict)}`);
  const lost = told.filter(({ id, event }) => events.get(id) !== event);
  if (lost.length > 0) throw new Error(`lost: ${lost.map(({ id }) => id).join(", ")}`);
  return told.length;
};
