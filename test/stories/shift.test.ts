import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { built } from "../kit/built.ts";
import { workplace } from "../kit/limber.ts";
import { SMALL_SPOT } from "../kit/small-spot.ts";
import { inTerminal, type TerminalRun } from "../kit/terminal.ts";

/** Real seconds under a real pseudo-terminal; every fixture is simulated. */
const SLOW = 600_000;
const place = workplace();
afterAll(() => place.remove());

const PROFILE = place.file("small.yaml", SMALL_SPOT);
const SEQUENCE = place.file(
  "short.yaml",
  "sequence: short\ntitle: Short\nsteps:\n  - { sweep: Pan, seconds: 0.6, passes: 2 }\n  - { sweep: Iris, seconds: 0.5, passes: 2 }\n",
);
const SHOP = place.file(
  "own.yaml",
  "shop: own\ntitle: Own\nlevels:\n  - { level: short, title: Short, needs: [{ sequence: short, every: return }] }\n",
);
const SERIALS = Array.from({ length: 12 }, (_, index) => `SP-${101 + index}`);
/** The simulated fault is seen by whoever watches; here that is the test, which presses as a person would. */
const FAULTY = ["SP-103", "SP-109"];
const PARKED = "SP-111";

const NEXT = /End of the\s+shift: \.\n>\s*$/;

/** What one clean head has cost: keys besides the scan and the safety page, keyboard letters among them, and seconds. */
interface Cost {
  readonly serial: string;
  readonly keys: number;
  readonly letters: number;
  readonly seconds: number;
}

/** Does what a technician does, and counts it. A key that the page refuses is pressed again and counted once: a person would have read first. */
class Technician {
  readonly run: TerminalRun;
  private readonly from = performance.now();
  private keys = 0;
  private letters = 0;

  constructor(run: TerminalRun) {
    this.run = run;
  }

  async key(key: string, says: Parameters<TerminalRun["press"]>[1]): Promise<string> {
    this.keys += 1;
    if (/^[a-z]$/i.test(key)) this.letters += 1;
    return await this.run.press(key, says);
  }

  /** Until it moves: a scanner types the number and sends ENTER; then the safety page has its letter. */
  async scan(serial: string): Promise<void> {
    await this.run.until(NEXT);
    this.run.type(`${serial}\r`);
    await this.run.until("BEFORE ANYTHING MOVES");
    await this.run.press("c", /^ {2}(?:PAN|SLOW MOVEMENT FIRST)$/m);
  }

  cost(serial: string): Cost {
    return { serial, keys: this.keys, letters: this.letters, seconds: (performance.now() - this.from) / 1000 };
  }
}

const clean = async (technician: Technician, serial: string): Promise<Cost> => {
  await technician.scan(serial);
  await technician.run.until("DID YOU WATCH THESE?");
  await technician.key("\r", `${serial}: NOTHING WRONG, ready for release at level short`);
  await technician.key("\r", NEXT);
  return technician.cost(serial);
};

/** Presses while it moves, and names the first symptom by the buttons alone: the press button marks it, the again button takes it. */
const faulty = async (technician: Technician, serial: string): Promise<void> => {
  const { run } = technician;
  await technician.scan(serial);
  await run.until(moving("PAN"));
  run.type(" ");
  await run.until("PAN: WHAT DID YOU SEE?");
  await stillBelongsToTheStep(run);
  await technician.key(" ", /^ {2}> does not move/m);
  await technician.key("\u001b[5~", (screen) => !screen.includes("PAN: WHAT DID YOU SEE?"));
  await answersUntilAside(run, "");
};

/** A press button that is pressed just after the end still counts for what moved (0.7 s). */
const stillBelongsToTheStep = (run: TerminalRun) => run.until(() => false, 800).catch(() => {});

const moving = (headline: string) => (screen: string) =>
  screen.includes(`\n  ${headline}\n`) &&
  screen.includes("left in this step") &&
  !screen.includes("It moves to the start");

/** In the middle it is stopped: a part has to be ordered. */
const parked = async (technician: Technician, serial: string): Promise<void> => {
  const { run } = technician;
  await technician.scan(serial);
  await run.until(moving("PAN"));
  run.type("s");
  await answersUntilAside(run, "1");
};

const MOST = 90;

/** Whatever else is asked after a step with presses gets its ENTER; at the end it is set aside, or not. */
const answersUntilAside = async (run: TerminalRun, choice: string): Promise<void> => {
  for (let page = 0; page < MOST; page += 1) {
    const screen = await run.until(/Set aside\?[^>]*\n>\s*$|WHERE IT HAPPENED|WHAT NEXT\?|DID YOU WATCH/);
    if (screen.includes("Set aside?")) {
      run.type(`${choice}\r`);
      await run.until(NEXT);
      return;
    }
    const [headline = ""] = /WHERE IT HAPPENED|WHAT NEXT\?|DID YOU WATCH/.exec(screen) ?? [];
    await run.press("\r", (now) => !now.includes(headline));
  }
  throw new Error("it does not come to an end");
};

test(
  "a shift of twelve: nine clean, two with a fault, one set aside; a clean head costs a scan, two keys and the safety page",
  async () => {
    for (const serial of SERIALS) {
      const known = ["--profile", PROFILE, "--sequence", SEQUENCE, "--serial", serial, "--watcher", "1", "--fast"];
      expect(place.limber("sweep", ...known, "--set", "none", "--journal", place.journal).code, serial).toBe(0);
    }
    const args = ["shift", "--person", "KM", "--output", "sim", "--sequence", SEQUENCE, "--hire", "Autumn"];
    const list = place.file("list.txt", [...SERIALS, "SP-999"].join("\n"));
    const kept = ["--list", list, "--shop", SHOP, "--journal", place.journal];
    const run = inTerminal([join(built(), "start.js"), ...args, ...kept], { env: { HOME: place.folder } });
    await run.until(NEXT);
    const boards = [board()];
    const perClean: Cost[] = [];
    for (const serial of SERIALS) {
      const technician = new Technician(run);
      if (FAULTY.includes(serial)) await faulty(technician, serial);
      else if (serial === PARKED) await parked(technician, serial);
      else perClean.push(await clean(technician, serial));
      if (serial === SERIALS[5]) boards.push(board());
    }
    run.type(".\r");
    expect(await run.ended).toBe(0);
    boards.push(board());
    tellCosts(args, perClean, boards);

    expect(perClean).toHaveLength(9);
    for (const { keys, letters } of perClean) expect({ keys, letters }).toEqual({ keys: 2, letters: 0 });
    expect(boards.map(({ counts }) => counts)).toMatchObject([
      { released: 0, "needs-work": 0, part: 0, "not-seen": 13 },
      { released: 5, "needs-work": 1, part: 0, "not-seen": 7 },
      { released: 9, "needs-work": 2, part: 1, "not-seen": 1 },
    ]);
  },
  SLOW,
);

interface Counts {
  readonly counts: Readonly<Record<string, number>>;
}

/** What another terminal shows at this moment. */
const board = (): Counts => {
  const { out } = place.limber("board", "--hire", "Autumn", "--simulated", "--json", "--journal", place.journal);
  return JSON.parse(out) as Counts;
};

const tellCosts = (args: readonly string[], costs: readonly Cost[], boards: readonly Counts[]): void => {
  const rows = costs.map(
    ({ serial, keys, letters, seconds }) =>
      `${serial}: 1 scan, the safety page, ${keys} keys, ${letters} of them letters; ${seconds.toFixed(1)} s`,
  );
  const shown = boards.map(({ counts }) => JSON.stringify(counts));
  process.stdout.write(`1 command: limber ${args.join(" ")}\n${[...rows, ...shown].join("\n")}\n`);
};
