import { InvalidArgumentError, Option } from "commander";
import { nameTrouble, writtenName } from "../../domain/problem/identity.ts";
import { journalPlace } from "../../io/systems.ts";

/** Options that several families of commands share, each described once. What one family alone takes stands with its commands. */

/** A whole number from 0 as it was typed; anything else is refused by a thrown `InvalidArgumentError`. */
export const whole = (text: string): number => {
  if (!/^\d{1,9}$/.test(text)) throw new InvalidArgumentError("It must be a whole number, such as 3.");
  return Number(text);
};

/**
 * Initials and serial numbers as they are written down: two spellings that look the same are the same. A name that may not
 * be used is refused by a thrown `InvalidArgumentError`.
 */
export const named = (text: string): string => {
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
export const benchOption = () => new Option("--bench <name>", "this bench: a name or a file").default("bench");
export const shopOption = () => new Option("--shop <name>", "levels of release: a name or a file").default("shop");
export const addressOption = () => new Option("--address <slot>", "start address").argParser(whole).default(1);
export const universeOption = () => new Option("--universe <number>", "universe").argParser(whole).default(1);
export const personOption = () =>
  new Option("--person <initials>", "who watches").argParser(named).default("", "nobody");
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
/** What continuous was called before. */
export const handsOffOption = () => new Option("--hands-off").default(false).hideHelp();
export const setOption = () =>
  new Option(
    "--set <fault>",
    'what is wrong with the simulated fixture; several with commas, "none" for nothing',
  ).argParser(listed);
export const watcherOption = () =>
  new Option("--watcher <seed>", "let the simulated watcher watch; the seed says what it notices").argParser(whole);

const fastOption = () => new Option("--fast", "faster than real time, with the simulated watcher").default(false);

export const rdmOption = () =>
  new Option("--rdm <when>", "ask the fixture itself over RDM; usual: in a check-in and in a soak")
    .choices(["usual", "always", "never"])
    .default("usual");
const plainOption = () => new Option("--plain", "sentence by sentence, for logs and screen readers").default(false);
const distanceOption = () => new Option("--distance", "letters several rows high, to be read from afar").default(false);

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

export const whyOption = () => new Option("--why <words>", "in your own words").makeOptionMandatory();

/** Faults of simulated fixtures, by serial number. */
export type BySerial = ReadonlyMap<string, readonly string[]>;

export const setBySerialOption = () =>
  new Option("--set <serial=fault>", "what is wrong with a simulated fixture; again for others").argParser(bySerial);

const bySerial = (text: string, before: BySerial = new Map()): BySerial => {
  const [serial, faults] = text.split("=", 2);
  if (!serial || !faults) throw new InvalidArgumentError("it must be a serial number and a fault: SERIAL=FAULT.");
  return new Map([...before, [serial, [...(before.get(serial) ?? []), ...faults.split(",")]]]);
};
