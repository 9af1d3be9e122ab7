import { randomBytes } from "node:crypto";
import { type Command, InvalidArgumentError, Option } from "commander";
import { nameTrouble, writtenName } from "../../domain/problem/identity.ts";
import { journalPlace } from "../../io/systems.ts";
import type { Phone } from "../phone/beside.ts";
import { LEVELS } from "../simulated/practice-levels.ts";
import { type ExitCode, refuse } from "./output.ts";

/** Commands that belong together: adds them to the program. What they do is imported only when one is chosen, so that the program starts quickly. */
export type Family = (program: Command, ends: Ends) => void;

/** Hands over what a chosen command does; its exit code becomes the program's. */
type Ends = (work: ExitCode | Promise<ExitCode>) => Promise<void>;

/** A command with these options, in the order in which help lists them. */
export const taking = (command: Command, ...options: readonly Option[]): Command =>
  options.reduce((sum, option) => sum.addOption(option), command);

/** A name for a new run: it sorts by time, tells two benches apart, and is short enough to be read aloud. */
export const runName = (): string => {
  const time = new Date().toISOString().replaceAll(/[-:]/g, "").replace("T", "-").slice(0, 13);
  return `${time}-${randomBytes(3).toString("hex")}`;
};

/** Options that several commands share, each described once. */
const whole = (text: string): number => {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError("It must be a whole number, such as 3.");
  return Number(text);
};

/** Initials and serial numbers: two spellings that look the same are the same. */
const named = (text: string): string => {
  const trouble = nameTrouble(text);
  if (trouble !== undefined) throw new InvalidArgumentError(`it ${trouble}.`);
  return writtenName(text);
};

const listed = (text: string, before: readonly string[] | undefined): readonly string[] => [
  ...(before ?? []),
  ...text.split(","),
];

export const profileOption = () =>
  new Option("--profile <name>", "kind of fixture and mode: a name or a file").default("spot-16bit");
export const sequenceOption = () => new Option("--sequence <name>", "test plan: a name or a file").default("quick");
/** With a person a short look at everything, unattended the quick check. */
export const anySequenceOption = () =>
  new Option("--sequence <name>", "test plan: a name or a file (a person: first-look, else quick)");
export const benchOption = () => new Option("--bench <name>", "this bench: a name or a file").default("bench");
export const shopOption = () => new Option("--shop <name>", "levels of release: a name or a file").default("shop");
export const addressOption = () => new Option("--address <slot>", "start address").argParser(whole).default(1);
export const universeOption = () => new Option("--universe <number>", "universe").argParser(whole).default(1);
export const serialOption = () =>
  new Option("--serial <number>", "serial number of the fixture").argParser(named).default("unknown");
export const personOption = () =>
  new Option("--person <initials>", "who watches").argParser(named).default("", "nobody");
export const newSerialOption = () =>
  new Option("--new", "the serial number is a new fixture's: it is in no run yet").default(false);
export const otherKindOption = () =>
  new Option("--other-kind <words>", "why the serial number stands on another kind of fixture than before").argParser(
    named,
  );
export const noteOption = () => new Option("--note <words>", "in your own words").default("", "none");
/** `usual`: what is taken when nothing is said. */
export const outputOption = (usual: string) =>
  new Option("--output <line>", "DMX line: serial:PATH, break:PATH, sacn:UNIVERSE, artnet:UNIVERSE or sim").default(
    "",
    usual,
  );
export const toOption = () =>
  new Option("--to <address>", "where sacn: and artnet: go: an IPv4 address, sacn: also multicast");
export const journalOption = () =>
  new Option("--journal <file>", "where runs are saved").default(
    journalPlace(process.env),
    "limber/journal.db in the user's data folder",
  );
export const jsonOption = () => new Option("--json", "print as JSON").default(false);
/** In which form something is given out; the first is the usual one. */
export const formOption = (forms: readonly [string, ...string[]]) =>
  new Option("--as <form>", "in which form").choices(forms).default(forms[0]);
export const outOption = () => new Option("--out <file>", "write it to a new file instead of printing it");
export const modeOption = () => new Option("--mode <name>", "which of its modes");
export const askEachOption = () =>
  new Option("--ask-each", "ask after every step, not only after those in which something was pressed").default(false);
export const continuousOption = () =>
  new Option("--continuous", "continuous: one step after the other; you confirm the silent ones in groups").default(
    false,
  );
/** What continuous was called before. */
export const handsOffOption = () => new Option("--hands-off").default(false).hideHelp();
export const setOption = () =>
  new Option(
    "--set <fault>",
    'what is wrong with the simulated fixture; several with commas, "none" for nothing',
  ).argParser(listed);
export const watcherOption = () =>
  new Option("--watcher <seed>", "let the simulated watcher watch; the seed says what it notices").argParser(whole);
export const runsOption = () => new Option("--runs <number>", "runs for every fault").argParser(whole).default(3);
export const seedOption = () => new Option("--seed <number>", "of the first run").argParser(whole).default(1);
export const followUpsOption = () =>
  new Option(
    "--follow-ups <number>",
    "how much of what is offered at the end of a run is done too, tests and inspections",
  )
    .argParser(whole)
    .default(0);

export const keepCasesOption = () =>
  new Option("--keep <file>", "keep finished runs in this file; begun again, the trial goes on from there").default(
    undefined,
    "nowhere",
  );
export const shareOption = () =>
  new Option("--part <share>", "this process does one share of the runs, as 1/2").default(undefined).hideHelp();
export const levelOption = () =>
  new Option("--level <level>", "how hard it is to notice what is hidden").choices(LEVELS).default("easy");
export const roundsOption = () => new Option("--rounds <number>", "how many rounds").argParser(whole).default(3);
export const practiceSequenceOption = () =>
  new Option("--sequence <name>", "test plan: a name or a file").default("practice");
const fastOption = () => new Option("--fast", "faster than real time, with the simulated watcher").default(false);

export const onlyOption = () =>
  new Option("--only <steps>", "what failed, what repairs affect, or all steps")
    .choices(["failed", "affected", "all"])
    .argParser(replayed)
    .default("all");

/** "disturbed" is what "affected" was called before. */
const replayed = (word: string): string => {
  const known = word === "disturbed" ? "affected" : word;
  if (!["failed", "affected", "all"].includes(known)) throw new InvalidArgumentError("Type failed, affected or all.");
  return known;
};

export const rdmOption = () =>
  new Option("--rdm <when>", "ask the fixture itself over RDM; usual: in a check-in and in a soak")
    .choices(["usual", "always", "never"])
    .default("usual");
const plainOption = () => new Option("--plain", "sentence by sentence, for logs and screen readers").default(false);
const distanceOption = () => new Option("--distance", "letters several rows high, to be read from afar").default(false);

/** Which data files: profile, sequence, bench. */
export const dataOptions = () => [profileOption(), sequenceOption(), benchOption()];
/** For a simulated fixture only. */
export const simulationOptions = () => [setOption(), watcherOption(), fastOption()];
/** How the screen speaks to the person. */
export const screenOptions = () => [plainOption(), distanceOption()];

/** The page on a phone beside the screen; without it nothing listens on the network. */
export const phoneOptions = () => [
  new Option("--phone [address]", "a page on a phone too, served at this address of this computer for this run"),
  new Option("--phone-certificate <file>", "the shop's own certificate with its key, PEM (usual: one of this bench)"),
  new Option("--phones <number>", "how many phones may be paired: the first answers, the others watch")
    .argParser(whole)
    .default(1),
];

/** Of a run in which several fixtures are played: where it is kept, what is simulated, how it is shown. */
export const severalFixturesOptions = () => [
  journalOption(),
  setBySerialOption(),
  watcherOption(),
  fastOption(),
  rdmOption(),
  ...screenOptions(),
  ...phoneOptions(),
];

/**
 * The faults to set in a simulated fixture: "none" sets nothing. Undefined where nothing was said,
 * which leaves the choice to the command.
 */
export const faultsToSet = (set: readonly string[] | undefined): readonly string[] | undefined =>
  set?.filter((id) => id !== "none");

export const partOption = () => new Option("--part <words>", "part used").default("");
export const minutesOption = () => new Option("--minutes <number>", "minutes it took").argParser(whole).default(0);
export const whyOption = () => new Option("--why <words>", "in your own words").makeOptionMandatory();
export const valueOption = () => new Option("--value <number>", "what was measured").argParser(measured);

const measured = (text: string): number => {
  const value = Number(text.replace(",", "."));
  if (text.trim() === "" || !Number.isFinite(value) || value < 0)
    throw new InvalidArgumentError("It must be a number, such as 0.08.");
  return value;
};

/** Faults of simulated fixtures, by serial number. */
export type BySerial = ReadonlyMap<string, readonly string[]>;

export const setBySerialOption = () =>
  new Option("--set <serial=fault>", "what is wrong with a simulated fixture; again for others").argParser(bySerial);

const bySerial = (text: string, before: BySerial = new Map()): BySerial => {
  const [serial, faults] = text.split("=", 2);
  if (!serial || !faults) throw new InvalidArgumentError("it must be a serial number and a fault: SERIAL=FAULT.");
  return new Map([...before, [serial, [...(before.get(serial) ?? []), ...faults.split(",")]]]);
};

/** Whether and how a phone is wanted, as the options of a command say it. */
export interface PhoneGiven {
  readonly phone?: string | true;
  readonly phoneCertificate?: string;
  readonly phones: number;
  readonly journal: string;
}

/** A command's work with a phone beside it where one was asked for; else nothing of it is loaded and nothing listens. */
export const withPhone = async (
  { phone, phoneCertificate, phones, journal }: PhoneGiven,
  work: (phone: Phone | undefined) => Promise<ExitCode>,
): Promise<ExitCode> => {
  if (phone === undefined) return work(undefined);
  const { openPhone } = await import("../phone/phone.ts");
  const address = phone === true ? "" : phone;
  const opened = await openPhone({ address, certificate: phoneCertificate, most: Math.max(1, phones) }, journal);
  if (!opened.ok) return refuse(opened.problems);
  try {
    return await work(opened.value);
  } finally {
    await opened.value?.close();
  }
};
