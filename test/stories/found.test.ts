import { expect, test } from "vitest";
import { simulatedRun } from "../../src/app/simulated/start.ts";
import { fileLibrary } from "../../src/io/files/files.ts";
import { must } from "../kit/shipped.ts";

/** One seed each; `limber trial` measures all of them and says how often. */
const stories: readonly {
  readonly set: string;
  readonly named: string;
  readonly seen: RegExp;
  readonly because: string;
}[] = [
  {
    set: "tilt-drive-slack",
    named: "tilt-belt-slack",
    seen: /tilt knocks when it reverses/,
    because: "a slack belt knocks on reversal and swings on",
  },
  {
    set: "iris-leaf-kinked",
    named: "iris-leaf-bent",
    seen: /iris: opening is not round/,
    because: "a noisy iris that is not round has a bent leaf (common practice, no source)",
  },
  {
    set: "gobo-spring-sprung",
    named: "gobo-spring",
    seen: /picture wobbles as it turns|goes in and out of focus as it turns/,
    because:
      "a gobo that sits loosely is tilted against the beam, so its focus changes with every turn (common practice, no source)",
  },
  {
    set: "menu-pan-reversed",
    named: "settings-changed",
    seen: /moves the other way round/,
    because: "the last user's menu causes most faults (common practice, no source)",
  },
];

test.each(stories)(
  "$set: $because",
  async ({ set, named, seen }) => {
    const order = {
      names: { profile: "spot-16bit", sequence: "quick", bench: "bench" },
      address: 1,
      set: [set],
      seed: 1,
      drawFrom: "all" as const,
      copy: "drawn" as const,
      run: "story",
    };
    const sheet = must(await simulatedRun(fileLibrary(), order));
    expect(sheet.faults.slice(0, 3).map(({ id }) => id)).toContain(named);
    expect(sheet.steps.flatMap(({ symptoms }) => symptoms.map(({ words }) => words)).join("; ")).toMatch(seen);
  },
  120_000,
);
