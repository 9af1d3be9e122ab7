import { type Family, runName, taking } from "./family.ts";
import * as option from "./options.ts";

/** Commands that move a fixture and keep what came of it. */
export const playing: Family = (program, ends) => {
  taking(
    program.command("sweep").description("play a sequence on a fixture and keep what came of it"),
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
  ).action(async ({ profile, sequence, bench, handsOff, set, ...given }) => {
    const { sweep } = await import("../commands/sweep.ts");
    const names = { profile, sequence, bench };
    const mode = handsOff ? "hands-off" : "attended";
    await ends(sweep({ ...given, ...notAlways(given), names, mode, set: option.faultsToSet(set), run: runName() }));
  });

  for (const [name, words] of [
    ["resume", "go on with an unfinished run at its open step"],
    ["replay", "play a kept run once more, the very same movements"],
  ] as const)
    taking(
      program.command(`${name} <run>`).description(words),
      option.outputOption("the run's own"),
      option.toOption(),
      option.personOption(),
      option.journalOption(),
      ...option.simulationOptions(),
      ...option.screenOptions(),
      option.jsonOption(),
    ).action(async (run, { set, ...given }) => {
      const commands = await import("../commands/sweep.ts");
      await ends(commands[name](run, { ...given, ...notAlways(given), set: option.faultsToSet(set), run: runName() }));
    });
};

/** Options that are missing altogether when they are not given. */
const notAlways = ({ watcher, to }: { readonly watcher?: number; readonly to?: string }) => ({ watcher, to });
