import { readFileSync } from "node:fs";
import { type Bench, parseBench } from "../../src/bench/bench.ts";
import { good, type Result } from "../../src/problem/problem.ts";
import { tellProblems } from "../../src/problem/tell.ts";
import { parseProfile } from "../../src/profile/parse.ts";
import type { Profile } from "../../src/profile/profile.ts";
import { parseRack } from "../../src/rack/parse.ts";
import type { Rack } from "../../src/rack/rack.ts";
import { parseSequence } from "../../src/sequence/parse.ts";
import type { Sequence } from "../../src/sequence/sequence.ts";

/** The data files that come with Limber, read as a user's run reads them. */
export const shippedText = (file: string): string => readFileSync(file, "utf8");
export const shippedProfile = (name: string): Profile =>
  must(parseProfile(`${name}.yaml`, shippedText(`profiles/${name}.yaml`)));
export const shippedSequence = (name: string): Sequence =>
  must(parseSequence(`${name}.yaml`, shippedText(`sequences/${name}.yaml`)));
export const shippedBench = (): Bench => must(parseBench("bench.yaml", shippedText("benches/bench.yaml")));
export const shippedRack = (name: string): Rack =>
  must(parseRack(`${name}.yaml`, shippedText(`racks/${name}.yaml`), (profile) => good(shippedProfile(profile))));

/** The value, or the problems as the test's failure. */
export const must = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(tellProblems(result.problems));
  return result.value;
};

/** A sequence written in the test. */
export const sequenceOf = (...steps: readonly string[]): Sequence =>
  must(
    parseSequence("test.yaml", `sequence: test\ntitle: Test\nsteps:\n${steps.map((step) => `  - ${step}\n`).join("")}`),
  );
