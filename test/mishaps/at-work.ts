import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { EventBody } from "../../src/run/events/event.ts";
import { builtStore } from "../io/store/built-store.ts";
import { program } from "../kit/built.ts";
import { isDark, movedBetween } from "../kit/held.ts";
import { lineDecoder } from "../kit/line-decoder.ts";
import { type PtyPair, ptyPair } from "../kit/pty.ts";
import { shippedProfile } from "../kit/shipped.ts";
import { inTerminal, type TerminalRun } from "../kit/terminal.ts";

/** A place for one mishap: a folder of its own, which is the home of whoever works there. */
export interface Workplace {
  readonly folder: string;
  readonly journal: string;
  /** Any command of the program on the journal of this place, just started. */
  command(args: readonly string[], env?: Readonly<Record<string, string>>): TerminalRun;
  /** The sequence that `start` plays. */
  readonly sequence: string;
  /** The program on an output, just started. */
  start(output: readonly string[], env?: Readonly<Record<string, string>>): TerminalRun;
  /** The same, until the fixture's pan is under way. */
  atWork(output: readonly string[], env?: Readonly<Record<string, string>>): Promise<TerminalRun>;
  /** As it stands on disk. */
  record(): Promise<readonly EventBody[]>;
}

/** Of the test's own context: several run at the same time. */
export type Afterwards = (tidy: () => void) => void;

/** Real seconds in real processes: as long as they take, on however busy a machine. */
export const SLOW = 120_000;

export const workplace = (afterwards: Afterwards, journalFolder?: string): Workplace => {
  const folder = mkdtempSync(join(tmpdir(), "limber-mishap-"));
  afterwards(() => rmSync(folder, { recursive: true, force: true }));
  const place = (name: string) => join(folder, name);
  const journal = join(journalFolder ?? folder, "journal.db");
  const steps = ["{ sweep: Pan, seconds: 30, passes: 2 }", "{ sweep: Iris, seconds: 1, passes: 2 }"];
  writeFileSync(
    place("long.yaml"),
    `sequence: long\ntitle: Long\nsteps:\n${steps.map((one) => `  - ${one}\n`).join("")}`,
  );
  const command: Workplace["command"] = (args, env = {}) => {
    const run = inTerminal(["-c", HANDS_FREE, process.execPath, program(), ...args, "--journal", journal], {
      program: "bash",
      env: { HOME: folder, XDG_STATE_HOME: "", XDG_DATA_HOME: "", ...env },
    });
    afterwards(() => run.kill("SIGKILL"));
    return run;
  };
  const sequence = place("long.yaml");
  const start: Workplace["start"] = (output, env) =>
    command(["sweep", "--ask-each", "--output", ...output, "--sequence", sequence], env);
  return {
    folder,
    journal,
    sequence,
    command,
    start,
    atWork: async (output, env) => {
      const run = start(output, env);
      await run.until("BEFORE ANYTHING MOVES");
      run.type("c");
      await run.until((screen) => screen.includes("\n  PAN\n") && !screen.includes("It moves to the start"));
      return run;
    },
    record: async () => {
      const { openJournal } = await builtStore();
      const opened = await openJournal(journal, 10);
      const events = await opened.events();
      await opened.close();
      return events.map(({ body }) => body);
    },
  };
};

/** Or the program would hold the far ends of all cables itself, and none could be pulled out. */
const HANDS_FREE =
  'for fd in $(ls /proc/$$/fd 2>/dev/null); do [ "$fd" -gt 2 ] && eval "exec $fd>&-"; done; exec "$0" "$@"';

/** An interface is asked its number by label 10 and says four bytes, the lowest first (framed serial messages, secondary). */
const NUMBER_ASKED = 10;
const numberSaid = (number: number) =>
  Uint8Array.of(0x7e, NUMBER_ASKED, 4, 0, number & 255, (number >> 8) & 255, 0, 0, 0xe7);

/** An interface on a cable, under a name that stays when another is plugged in. */
export const interfaceAt = (folder: string, afterwards: Afterwards) => {
  let number: number | undefined;
  const path = join(folder, "usb");
  let pair: PtyPair;
  const packets: (readonly number[])[] = [];
  const waiting = new Set<() => void>();
  const plugIn = () => {
    const decoder = lineDecoder((packet) => {
      packets.push(packet);
      for (const look of waiting) look();
    });
    let taken = false;
    let heard = 0;
    pair = ptyPair((bytes) => {
      if (!taken) pair.taken();
      taken = true;
      decoder.take(bytes);
      for (; heard < decoder.otherLabels.length; heard += 1)
        if (decoder.otherLabels[heard] === NUMBER_ASKED && number !== undefined) pair.say(numberSaid(number));
    });
    rmSync(path, { force: true });
    symlinkSync(pair.path, path);
  };
  plugIn();
  afterwards(() => pair.pullOut());
  return {
    path,
    output: `serial:${path}`,
    packets: packets as readonly (readonly number[])[],
    /** Resolves when it holds, dark, where it was last told to stand: so many packets in a row alike. */
    held: () =>
      new Promise<void>((resolve) => {
        const look = () => {
          if (isHeld(packets)) resolve();
        };
        waiting.add(look);
        look();
      }),
    plugIn,
    /** From the next question on it says this number of itself. */
    numbered: (own: number) => {
      number = own;
    },
    pullOut: () => pair.pullOut(),
    /** Says anything at all to the program, as far as it listens. */
    pour: (bytes: Uint8Array) => pair.pour(bytes),
    stopReading: () => pair.stopReading(),
    readOn: () => pair.readOn(),
  };
};

const SPOT = shippedProfile("spot-16bit");

const ALIKE = 4;
const isHeld = (packets: readonly (readonly number[])[]): boolean => heldFor(packets) >= ALIKE;

/** How many of the last packets are dark and alike, for the shipped spot at address 1. */
export const heldFor = (packets: readonly (readonly number[])[]): number => {
  const last = packets.at(-1);
  const other = packets.findLastIndex((one) => !isDark(SPOT, one) || movedBetween(SPOT, last, one).length > 0);
  return packets.length - 1 - other;
};

/** How far pan and tilt are told to go from one packet to the next at most, in degrees: a stop that swings the head shows here. */
export const farthest = (packets: readonly (readonly number[])[]): number =>
  Math.max(
    0,
    ...packets.slice(1).flatMap((packet, n) =>
      [0, 2].map((slot) => {
        const raw = (one: readonly number[] | undefined) => 256 * (one?.[slot] ?? 0) + (one?.[slot + 1] ?? 0);
        return (Math.abs(raw(packet) - raw(packets[n])) * 540) / 65_535;
      }),
    ),
  );

/** What stands at the end of the record. */
export const ending = (record: readonly EventBody[]): unknown => {
  const last = record.at(-1);
  return last?.kind === "run-closed" ? last.how : last?.kind;
};
