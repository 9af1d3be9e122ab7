import { type Family, runName, taking } from "./family.ts";
import * as option from "./options.ts";

/** Commands that move a fixture and keep what came of it. */
export const playing: Family = (program, ends) => {
  taking(
    program.command("sweep [sequence]").description("play a sequence on a fixture and keep what came of it"),
    option.outputOption("the bench file's, else sim"),
    option.toOption(),
    ...option.dataOptions(),
    option.universeOption(),
    option.addressOption(),
    option.serialOption(),
    option.personOption(),
    option.handsOffOption(),
    option.journalOption(),
    ...option.simulationOptions(),
    ...option.screenOptions(),
    option.jsonOption(),
  ).action(async (named: string | undefined, { profile, sequence, bench, handsOff, set, ...given }) => {
    const { sweep } = await import("../commands/sweep.ts");
    const names = { profile, sequence: named ?? sequence, bench };
    const mode = handsOff ? "hands-off" : "attended";
    await ends(sweep({ ...given, ...notAlways(given), names, mode, set: option.faultsToSet(set), run: runName() }));
  });

  const again = () => [
    option.outputOption("the run's own"),
    option.toOption(),
    option.personOption(),
    option.journalOption(),
    ...option.simulationOptions(),
    ...option.screenOptions(),
    option.jsonOption(),
  ];
  taking(
    program.command("resume <run>").description("go on with an unfinished run at its open step"),
    ...again(),
  ).action(async (run, { set, ...given }) => {
    const { resume } = await import("../commands/sweep.ts");
    await ends(resume(run, { ...given, ...notAlways(given), set: option.faultsToSet(set), run: runName() }));
  });

  taking(
    program
      .command("replay <run>")
      .description("play a kept run once more, the very same movements, and show before and after"),
    option.onlyOption(),
    ...again(),
  ).action(async (run, { set, only, ...given }) => {
    const { replay } = await import("../commands/sweep.ts");
    await ends(replay(run, { ...given, only, ...notAlways(given), set: option.faultsToSet(set), run: runName() }));
  });
};

/** Options that are missing altogether when they are not given. */
const notAlways = ({ watcher, to }: { readonly watcher?: number; readonly to?: string }) => ({ watcher, to });
