import { expect, test } from "vitest";
import { fileLibrary } from "../../src/io/files/files.ts";
import type { Batch } from "../../src/run/batch/batch.ts";
import { expectedOf } from "../../src/run/batch/expected.ts";
import { simulatedRackRun } from "../kit/rack-unattended.ts";
import { must } from "../kit/shipped.ts";

/** Simulated fixtures and a simulated watcher, in no real time; nothing here says anything about real ones. */
const SLOW = 240_000;
const names = (rack: string, sequence: string) => ({ rack, sequence, bench: "bench" });

/** What was named of each fixture of which something was named, whatever the answer was. */
const seenOn = ({ members }: Batch): Readonly<Record<string, readonly string[]>> =>
  Object.fromEntries(
    members.flatMap(({ serial, session }) => {
      const seen = session.view.steps.flatMap(({ judged }) => judged?.symptoms.map(({ symptom }) => symptom) ?? []);
      return seen.length > 0 ? [[serial, [...new Set(seen)].toSorted()]] : [];
    }),
  );

test(
  "24 fixtures on two universes, three of them with different faults: all three are found, clean ones are not, in a third of the time",
  async () => {
    const set = new Map([
      ["SP-203", ["tilt-drive-slack"]],
      ["SP-209", ["iris-leaf-kinked"]],
      ["LW-208", ["zoom-output-burnt"]],
    ]);
    const order = { names: names("two-universes", "first-look"), run: "story", set, seed: 1, shown: () => undefined };
    const { ended } = must(await simulatedRackRun(fileLibrary(), order));
    expect(ended.stage).toEqual({ kind: "finished", how: "finished" });
    expect(seenOn(ended)).toEqual({
      "SP-203": ["knocks", "swings-on"],
      "SP-209": ["grinds", "not-round"],
      "LW-208": ["no-move"],
    });
    expect(new Set(ended.members.map(({ spot }) => spot.universe))).toEqual(new Set([1, 2]));
    const share = ended.now / expectedOf(ended.plan, ended.members, 0).oneByOne;
    expect(share).toBeGreaterThan(0.2);
    expect(share).toBeLessThan(0.45);
  },
  SLOW,
);

test(
  "two ganged spots, one with a slack tilt belt: the odd one is given an address of its own and named alone",
  async () => {
    const order = {
      names: names("test/kit/two-ganged.yaml", "pan-tilt"),
      run: "story",
      seed: 1,
      shown: () => undefined,
    };
    const { ended } = must(
      await simulatedRackRun(fileLibrary(), { ...order, set: new Map([["SP-2", ["tilt-drive-slack"]]]) }),
    );
    expect(Object.keys(seenOn(ended))).toEqual(["SP-2"]);
    expect(seenOn(ended)["SP-2"]).toContain("knocks");
    expect(ended.members.map(({ spot }) => spot.address).toSorted((a, b) => a - b)).toEqual([1, 31]);
  },
  SLOW,
);
