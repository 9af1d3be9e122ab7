import { readdirSync } from "node:fs";
import { expect, test } from "vitest";
import { simulatedRun } from "../../src/app/simulated/start.ts";
import { fileLibrary } from "../../src/io/files/files.ts";
import { must } from "../kit/shipped.ts";

const profiles = readdirSync("profiles")
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => name.replace(".yaml", ""));

test.each(profiles)(
  "a simulated %s with nothing set goes through the quick check, and nothing fails",
  async (profile) => {
    const order = {
      names: { profile, sequence: "quick", bench: "bench" },
      address: 1,
      set: [],
      seed: 1,
      drawFrom: "all" as const,
      copy: "drawn" as const,
      run: "library",
    };
    const { steps, ended } = must(await simulatedRun(fileLibrary(), order));
    expect(ended).toBe("finished");
    const results = steps.map(({ result }) => result);
    expect(results.filter((result) => result === "fail")).toEqual([]);
    expect(results.filter((result) => result === "pass").length).toBeGreaterThanOrEqual(14);
  },
  120_000,
);
