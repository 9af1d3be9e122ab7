import { randomBytes } from "node:crypto";
import * as option from "../common/options.ts";
import { type Family, runName, taking, withPhone } from "../common/options.ts";

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
    option.anySequenceOption(),
    option.benchOption(),
    option.addressOption(),
    ...option.simulationOptions(),
    option.jsonOption(),
    option.continuousOption(),
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
    option.levelOption(),
    option.roundsOption(),
    option.profileOption(),
    option.practiceSequenceOption(),
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
    option.runsOption(),
    option.seedOption(),
    option.followUpsOption(),
    option.keepCasesOption(),
    option.shareOption(),
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
