import { readFileSync } from "node:fs";
import { type Bench, parseBench } from "../../src/data/bench/bench.ts";
import { parseProfile } from "../../src/data/profile/parse.ts";
import type { Profile } from "../../src/data/profile/profile.ts";
import { parseRack } from "../../src/data/rack/parse.ts";
import type { Rack } from "../../src/data/rack/rack.ts";
import { parseSequence } from "../../src/data/sequence/parse.ts";
import type { Sequence } from "../../src/data/sequence/sequence.ts";
import { good, type Result, tellProblems } from "../../src/domain/problem/problem.ts";

/** Each is read once: it stays as it is, and hundreds of tests want the same few. */
const once = <T>(read: (name: string) => T): ((name: string) => T) => {
  const known = new Map<string, T>();
  return (name) => {
    const value = known.get(name) ?? read(name);
    known.set(name, value);
    return value;
  };
};

/** The data files that come with Limber, read as a user's run reads them. */
export const shippedText = once((file) => readFileSync(file, "utf8"));
export const shippedProfile = once(
  (name): Profile => must(parseProfile(`${name}.yaml`, shippedText(`profiles/${name}.yaml`))),
);
export const shippedSequence = once(
  (name): Sequence => must(parseSequence(`${name}.yaml`, shippedText(`sequences/${name}.yaml`))),
);
const benchNamed = once((name): Bench => must(parseBench(`${name}.yaml`, shippedText(`benches/${name}.yaml`))));
export const shippedBench = (): Bench => benchNamed("bench");
export const shippedRack = once(
  (name): Rack =>
    must(parseRack(`${name}.yaml`, shippedText(`racks/${name}.yaml`), (profile) => good(shippedProfile(profile)))),
);

/** The value, or the problems as the test's failure. */
export function must<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(tellProblems(result.problems));
  return result.value;
}

/** A sequence written in the test. */
export const sequenceOf = (...steps: readonly string[]): Sequence =>
  must(
    parseSequence("test.yaml", `sequence: test\ntitle: Test\nsteps:\n${steps.map((step) => `  - ${step}\n`).join("")}`),
  );
