import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import type { TerminalRun } from "../../kit/terminal.ts";
import { farthest, type interfaceAt, type Workplace } from "../../mishaps/at-work.ts";
import { type RunKind, runKinds } from "../store/run-kinds.ts";

/** How a whole run of one kind is begun, brought to its first movement, and left when it is over. */
export interface DayKind {
  /** A practice round has no cable. */
  readonly line: "cable" | "simulated";
  /** The command. May play something before it. */
  begin(day: Day): Promise<readonly string[]>;
  /** With which exit codes it may end where a run ends with these. */
  ends(codes: readonly number[]): readonly number[];
  /** Before the run, and after it: as of a run that is killed. */
  readonly around: Pick<RunKind, "prepare" | "missingElsewhere">;
}

export interface Day {
  readonly place: Workplace;
  readonly cable: ReturnType<typeof interfaceAt>;
  start(args: readonly string[]): TerminalRun;
}

const RACK = `rack: small
title: Small
lines: [{ universe: 1, output: OUTPUT }]
fixtures:
  - { serial: A-1, profile: spot-16bit, shelf: top, place: left, universe: 1, address: 1 }
`;

/** As a check-in begins: looked at from outside, then switched on, then moved. */
const BY_HAND = `sequence: by-hand
title: By hand, then moved
steps:
  - inspect: outside
  - { power-up: fixture }
  - { sweep: Pan, seconds: 30, passes: 2 }
`;

/** The shipped spot with no minutes of waiting. */
const quickSpot = () =>
  readFileSync("profiles/spot-16bit.yaml", "utf8")
    .replace(/power_up_s: \d+/, "power_up_s: 2")
    .replace(/^lamp:.*$/m, "lamp: { kind: led, strike_s: 0, warm_s: 0, restrike_s: 0 }");

const same = (codes: readonly number[]) => codes;
const ON_CABLE = { line: "cable", ends: same } as const;

/** The kinds of run by name. */
export const dayKinds = (
  folder: string,
): { readonly kinds: Readonly<Record<string, DayKind>>; readonly close: () => Promise<void> } => {
  const { single, shared } = runKinds(folder);
  if (!single || !shared) throw new Error("Bug: a kind of run has another name");
  const around = single;
  const sweep = ({ place, cable }: Day) => [
    "sweep",
    "--ask-each",
    "--output",
    cable.output,
    "--sequence",
    place.sequence,
  ];
  const kinds: Readonly<Record<string, DayKind>> = {
    single: { ...ON_CABLE, around, begin: async (day) => sweep(day) },
    rack: {
      ...ON_CABLE,
      around,
      begin: async ({ place, cable }) => {
        const rack = join(place.folder, "rack.yaml");
        writeFileSync(rack, RACK.replace("OUTPUT", JSON.stringify(cable.output)));
        return ["rack", "run", rack, "--sequence", place.sequence];
      },
    },
    "check-in": {
      ...ON_CABLE,
      around,
      begin: async ({ place, cable }) => {
        const [sequence, profile] = [join(place.folder, "by-hand.yaml"), join(place.folder, "quick-spot.yaml")];
        writeFileSync(sequence, BY_HAND);
        writeFileSync(profile, quickSpot());
        return [
          ...["sweep", "--output", cable.output, "--sequence", sequence, "--profile", profile],
          ...["--serial", "A-1", "--person", "KM"],
        ];
      },
    },
    shift: {
      ...ON_CABLE,
      around,
      // However its run ended, a shift is left in peace.
      ends: () => [0],
      begin: async ({ place, cable }) => [
        "shift",
        "--person",
        "KM",
        "--output",
        cable.output,
        "--sequence",
        place.sequence,
      ],
    },
    replay: {
      ...ON_CABLE,
      around,
      begin: async (day) => {
        const first = day.start(sweep(day));
        await toMovement(first, day);
        first.type("s");
        await first.ended;
        const [, run] = /limber resume (\S+)/.exec(first.output()) ?? [];
        if (run === undefined) throw new Error(`the run before said no name:\n${first.screen()}`);
        return ["replay", run, "--output", day.cable.output];
      },
    },
    practice: {
      line: "simulated",
      around,
      // Of a round that was left there is a summary all the same.
      ends: (codes) => [0, ...codes],
      begin: async ({ place }) => ["practice", "--rounds", "1", "--person", "KM", "--sequence", place.sequence],
    },
    shared: { ...ON_CABLE, around: shared, begin: async (day) => sweep(day) },
  };
  return { kinds, close: () => shared.close() };
};

/** What a person types at a page, told by its words without their spaces, as lines break anywhere; the last that fits counts. */
type Pages = readonly (readonly [page: RegExp, keys: (found: RegExpExecArray) => string])[];

const PAGES: Pages = [
  [/BEFOREANYTHINGMOVES/, () => "c"],
  [/([A-Z]):confirmed/, ([, letter = ""]) => letter.toLowerCase()],
  [/G:(good|Iinspected)/, () => "g"],
  [/ENTER:nothingwaswrong/, () => "\r"],
  [/M:allofthisisconfirmed/, () => "m"],
  [/Endoftheshift:\.>?$/, () => "A-1\r"],
  [/leavethisfixture\.>?$/, () => "spot-16bit\r"],
  [/universe1,address1\.>?$/, () => "\r"],
];

const LEFT: Pages = [
  [/ENTERalone:no\.>?$/, () => "\r"],
  [/Endoftheshift:\.>?$/, () => ".\r"],
];

const keysAt = (screen: string, pages: Pages): string | undefined =>
  pages
    .flatMap(([page, keys]) =>
      [page.exec(screen.replaceAll(/\s+/g, ""))].flatMap((found) => (found ? [keys(found)] : [])),
    )
    .at(-1);

/** A key that is pressed again at once counts as held down. */
const BETWEEN_KEYS_MS = 1300;
const MOST_MS = 240_000;

/** Answers whatever is asked, until it moves. */
export const toMovement = async (run: TerminalRun, { cable }: Pick<Day, "cable">): Promise<void> => {
  const until = performance.now() + MOST_MS;
  const from = cable.packets.length;
  const moves = () =>
    farthest(cable.packets.slice(Math.max(from, cable.packets.length - 20))) > 0 || run.screen().includes("\n  PAN\n");
  while (!moves()) {
    const keys = keysAt(run.screen(), PAGES);
    if (keys !== undefined) run.type(keys);
    await wait(keys === undefined ? 100 : BETWEEN_KEYS_MS);
    if (performance.now() > until) throw new Error(`it does not move:\n${run.screen()}`);
  }
};

/** Answers what is asked between runs, until the program is over. */
export const left = async (run: TerminalRun): Promise<number> => {
  let code: number | undefined;
  void run.ended.then((ended) => {
    code = ended;
  });
  while (code === undefined) {
    const keys = keysAt(run.screen(), LEFT);
    if (keys !== undefined) run.type(keys);
    await wait(BETWEEN_KEYS_MS);
  }
  return code;
};
