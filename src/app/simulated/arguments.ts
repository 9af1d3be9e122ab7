import { randomBytes } from "node:crypto";
import { Option } from "commander";
import { type Family, runName, taking, withPhone } from "../common/command.ts";
import * as option from "../common/options.ts";
import { LEVELS } from "./practice-levels.ts";

/** The simulated bench that opens when nothing else is said, and the trial of the fault model on it. */
export const simulatedBench: Family = (program, ends) => {
  startCommand(program, ends);
  practiceCommand(program, ends);
  trialCommand(program, ends);
};

const startCommand: Family = (program, ends) => {
  taking(
    program
      .command("start", { isDefault: true })
      .description("the simulated bench: something is wrong with the fixture, find it"),
    option.profileOption(),
    new Option("--sequence <name>", "test plan: a name or a file (a person: first-look, else quick)"),
    option.benchOption(),
    option.addressOption(),
    ...option.simulationOptions(),
    option.jsonOption(),
    new Option("--continuous", "continuous: one step after the other; you confirm the silent ones in groups").default(
      false,
    ),
    option.handsOffOption(),
    ...option.screenOptions(),
  ).action(async ({ profile, sequence, bench, set, watcher, fast, continuous, handsOff, ...given }) => {
    const { startOnScreen, startUnattended } = await import("./start.ts");
    const alone = fast || watcher !== undefined || (await nobodyIsHere(given));
    const names = { profile, sequence: sequence ?? (alone ? "quick" : "first-look"), bench };
    const drawFrom = alone || sequence !== undefined ? "all" : "plain-to-see";
    const seed = watcher ?? (alone ? 1 : randomBytes(4).readUInt32LE());
    const order = {
      ...given,
      names,
      set: option.faultsToSet(set),
      seed,
      drawFrom,
      copy: "drawn",
      run: runName(),
    } as const;
    const mode = continuous || handsOff ? "hands-off" : "attended";
    await ends(alone ? startUnattended(order) : startOnScreen({ ...order, mode }));
  });
};

const practiceCommand: Family = (program, ends) => {
  taking(
    program
      .command("practice")
      .description("the simulated bench as a teacher: find what is hidden, then see what you caught and missed"),
    new Option("--level <level>", "how hard it is to notice what is hidden").choices(LEVELS).default("easy"),
    new Option("--rounds <number>", "how many rounds").argParser(option.whole).default(3),
    option.profileOption(),
    option.sequenceOption().default("practice"),
    option.benchOption(),
    option.setOption(),
    option.watcherOption(),
    option.personOption(),
    option.journalOption(),
    option.jsonOption(),
    ...option.screenOptions(),
    ...option.phoneOptions(),
  ).action(async ({ profile, sequence, bench, set, watcher, ...given }) => {
    const { practice } = await import("./practice.ts");
    const seed = watcher ?? randomBytes(4).readUInt32LE();
    const names = { profile, sequence, bench };
    const hidden = set === undefined ? undefined : option.faultsToSet(set);
    const order = { ...given, names, set: hidden, watcher, seed, run: `${runName()}-practice` };
    await ends(withPhone(given, (phone) => practice({ ...order, phone })));
  });
};

const trialCommand: Family = (program, ends) => {
  taking(
    program
      .command("trial")
      .description("set every fault in the simulated fixture and count how often the right answer is named"),
    option.profileOption(),
    option.sequenceOption(),
    // With the head upright nothing hangs: a bench on which the beam lies level lets weight show.
    option.benchOption().default("level"),
    new Option("--runs <number>", "runs for every fault").argParser(option.whole).default(3),
    new Option("--seed <number>", "of the first run").argParser(option.whole).default(1),
    new Option(
      "--follow-ups <number>",
      "how much of what is offered at the end of a run is done too, tests and inspections",
    )
      .argParser(option.whole)
      .default(0),
    new Option("--keep <file>", "keep finished runs in this file; begun again, the trial goes on from there").default(
      undefined,
      "nowhere",
    ),
    new Option("--part <share>", "this process does one share of the runs, as 1/2").default(undefined).hideHelp(),
    option.jsonOption(),
  ).action(async ({ profile, sequence, bench, ...given }) => {
    const { trial } = await import("./trial.ts");
    await ends(trial({ ...given, names: { profile, sequence, bench } }));
  });
};

const nobodyIsHere = async ({ plain }: { readonly plain: boolean }): Promise<boolean> => {
  const { hasTerminal } = await import("../fixture/eyes.ts");
  return !(hasTerminal() || plain);
};
