import { readFileSync } from "node:fs";
import { problem } from "../../domain/problem/problem.ts";
import { safeText } from "../../domain/problem/shown-text.ts";
import type { FileJournal } from "../../io/store/journal.ts";
import { boardLines } from "../../reports/board.ts";
import { ASIDE_WORDS } from "../../run/events/by-hand.ts";
import type { RunSummary } from "../../run/events/summary.ts";
import { runName } from "../common/command.ts";
import { EXIT, type ExitCode, print, refuse } from "../common/output.ts";
import type { RunOptions } from "../fixture/carry-out.ts";
import { resume } from "../fixture/play-again.ts";
import { sweep } from "../fixture/sweep.ts";
import type { PhoneQuestion } from "../phone/beside.ts";
import { afterwards, askLine, withRuns } from "./afterwards.ts";
import { boardIn, rememberedShift, rememberShift, type ShiftSettings } from "./board.ts";
import { newFixture } from "./new-fixture.ts";

/** What was said at the start; what was not is as in the shift before. */
export interface ShiftOptions extends Omit<RunOptions, "person" | "run" | "set" | "output" | "to" | "prints"> {
  readonly person: string | undefined;
  readonly bench: string | undefined;
  readonly output: string | undefined;
  readonly to: string | undefined;
  readonly sequence: string | undefined;
  readonly hire: string | undefined;
  /** The shop file with the levels of release: a name or a file. */
  readonly shop: string;
  /** A file with the serial numbers of the hire, one a line. */
  readonly list: string | undefined;
  /** Faults to be set in simulated fixtures, by serial. */
  readonly set: ReadonlyMap<string, readonly string[]>;
}

/** One fixture after the other, with nothing to type but its serial number: swept, judged, signed off or set aside. */
export const shift = async (options: ShiftOptions): Promise<ExitCode> => {
  const before = rememberedShift(options.journal);
  const listed = serialsIn(options.list);
  if (typeof listed === "string") return refuse([problem(options.list ?? "", listed)]);
  const named = settingsFrom(before, options, listed);
  const { phone } = options;
  const person = named.person === "" ? await askLine(phone, "Your initials, then ENTER:", INITIALS) : named.person;
  if (!person) return EXIT.stopped;
  const settings = { ...named, person };
  const trouble = rememberShift(options.journal, settings);
  if (trouble !== undefined) return refuse([problem(options.journal, trouble)]);
  for (const words of greeting(settings)) print(words);
  for (;;) {
    const line = await askLine(
      phone,
      "Next fixture: scan or type its serial number, then ENTER. Board: ?  End of the shift: .",
      NEXT_FIXTURE,
    );
    if (line === undefined || line === ".") return await farewell(options);
    if (line === "?") await tellBoard(options);
    else if (line !== "") await oneFixture(line, options, settings);
  }
};

const INITIALS: PhoneQuestion = {
  headline: "Who watches?",
  lines: [],
  answers: [],
  field: { words: "Your initials", by: "letters" },
};
const NEXT_FIXTURE: PhoneQuestion = {
  headline: "Next fixture",
  lines: ["Scan its label, or type its serial number."],
  answers: [{ words: "End of the shift", line: "." }],
  field: { words: "Serial number", by: "scan" },
};

const settingsFrom = (
  before: ShiftSettings,
  { person, bench, output, to, sequence, hire }: ShiftOptions,
  listed: readonly string[] | undefined,
): ShiftSettings => ({
  person: person ?? before.person,
  bench: bench ?? before.bench,
  output: output ?? before.output,
  sequence: sequence ?? before.sequence,
  hire: hire ?? before.hire,
  // Another hire has other fixtures.
  expected: [...(listed ?? (hire === undefined || hire === before.hire ? before.expected : []))],
  ...((to ?? before.to) === undefined ? {} : { to: to ?? before.to }),
});

/** Serial numbers one a line; undefined where no list was given, words where it cannot be read. */
const serialsIn = (file: string | undefined): readonly string[] | string | undefined => {
  if (file === undefined) return undefined;
  try {
    return readFileSync(file, "utf8")
      .split(/\r?\n/)
      .map((line) => line.split(/[,;\t]/)[0]?.trim() ?? "")
      .filter((serial) => serial !== "");
  } catch {
    return "this list cannot be read; it has one serial number a line";
  }
};

const greeting = ({ person, bench, output, sequence, hire, expected }: ShiftSettings): readonly string[] => [
  `Shift of ${safeText(person)}: ${safeText(sequence)}, bench ${safeText(bench)}, output ${safeText(output) || "the bench file's, else sim"}.`,
  ...(hire === ""
    ? []
    : [`Hire: ${safeText(hire)}${expected.length > 0 ? `, ${expected.length} fixtures listed` : ""}.`]),
  "All of this is saved for the next shift. To change it, use the options of limber shift.",
];

const oneFixture = async (serial: string, options: ShiftOptions, settings: ShiftSettings): Promise<void> => {
  const [runs, others] = await withRuns(options.journal, async (journal) => [
    await journal.briefs({ kind: "fixture", serial }),
    await journal.openElsewhere(),
  ]);
  const last = runs.at(-1);
  // What another bench has open is that bench's to go on with.
  const own = runs.filter(({ run }) => !others.has(run)).at(-1);
  const code = own && isOpen(own) ? await goOn(own, options, settings) : await begin(serial, last, options, settings);
  if (code === EXIT.input || code === EXIT.world) return;
  await afterwards(serial, code, options, settings);
};

const isOpen = ({ ended }: RunSummary): boolean => ended === "open" || ended === "stopped";

const runOptions = (serial: string, options: ShiftOptions, { person, output, to }: ShiftSettings): RunOptions => ({
  ...options,
  person,
  output,
  to,
  set: options.set.get(serial) ?? [],
  run: runName(),
  prints: "nothing",
});

const goOn = (last: RunSummary, options: ShiftOptions, settings: ShiftSettings): Promise<ExitCode> => {
  const why = last.aside ? `, ${ASIDE_WORDS[last.aside.why]}` : "";
  print(
    `${safeText(last.serial)} has a run that is not finished, of ${last.at.slice(0, 16).replace("T", " ")}${why}. It goes on.`,
  );
  return resume(last.run, runOptions(last.serial, options, settings));
};

const begin = async (
  serial: string,
  last: RunSummary | undefined,
  options: ShiftOptions,
  settings: ShiftSettings,
): Promise<ExitCode> => {
  const patch = last ?? (await newFixture(serial, options));
  if (!patch) return EXIT.input;
  return await sweep({
    ...runOptions(serial, options, settings),
    names: { profile: patch.profile, sequence: settings.sequence, bench: settings.bench },
    serial,
    universe: patch.universe,
    address: patch.address,
    mode: "hands-off",
    hire: settings.hire === "" ? undefined : settings.hire,
    // A new one was asked about already.
    isNew: true,
    otherKind: "",
    kept: last && (await keptProfile(last, options)),
  });
};

/** The profile of its last run: what was made of a file of one's own is found again without that file. */
const keptProfile = ({ run }: RunSummary, { journal: file }: ShiftOptions) =>
  withRuns(file, async (journal) => {
    const opening = (await journal.events(run)).find(({ body }) => body.kind === "run-opened")?.body;
    return opening?.kind === "run-opened" ? opening.profile : undefined;
  });

const tellBoard = async ({ journal: file }: ShiftOptions): Promise<void> =>
  withRuns(file, async (journal) => {
    const board = await boardIn(journal, file, { hire: undefined, simulated: await onlySimulated(journal) });
    for (const line of boardLines(board, process.stdout.columns || 80)) print(line);
  });

/** A shift on the simulated line has no real fixture to show. */
const onlySimulated = async (journal: FileJournal): Promise<boolean> =>
  (await journal.briefs({ kind: "all" })).at(-1)?.simulated ?? false;

const farewell = async (options: ShiftOptions): Promise<ExitCode> => {
  await tellBoard(options);
  return EXIT.done;
};
