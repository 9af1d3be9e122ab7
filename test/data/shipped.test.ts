import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { z } from "zod";
import { benchFile, parseBench } from "../../src/data/bench/bench.ts";
import { lint } from "../../src/data/profile/lint/lint.ts";
import { parseProfile, readProfile } from "../../src/data/profile/parse.ts";
import { profileFile } from "../../src/data/profile/schema.ts";
import { parseRack, rackFile } from "../../src/data/rack/parse.ts";
import { parseSequence, readSequence } from "../../src/data/sequence/parse.ts";
import { HAND_SHAPES, STEP_SHAPES, sequenceFile } from "../../src/data/sequence/sequence.ts";
import { parseShop, shopFile } from "../../src/data/shop/shop.ts";
import { good, tellDoubts, tellProblems } from "../../src/domain/problem/problem.ts";
import { compile } from "../../src/plan/compile.ts";
import { lintSequence } from "../../src/plan/lint.ts";
import { exportFile } from "../../src/reports/export-schema.ts";
import { must, shippedBench, shippedProfile, shippedSequence } from "../kit/shipped.ts";

const named = (folder: string) =>
  readdirSync(folder)
    .filter((name) => name.endsWith(".yaml"))
    .map((name) => name.replace(".yaml", ""));
const profiles = named("profiles");
const sequences = named("sequences");

const PARSERS = {
  profiles: parseProfile,
  sequences: parseSequence,
  benches: parseBench,
  shops: parseShop,
  racks: (source: string, text: string) => parseRack(source, text, (name) => good(shippedProfile(name))),
} as const;
const files = Object.entries(PARSERS).flatMap(([folder, parse]) =>
  named(folder).map((name) => ({ folder, name, parse })),
);

test.each(files)(
  "$folder/$name.yaml is sound, is called what its file is called, and names its schema",
  ({ folder, name, parse }) => {
    const text = readFileSync(`${folder}/${name}.yaml`, "utf8");
    const result = parse(`${name}.yaml`, text);
    expect(result.ok ? "" : tellProblems(result.problems)).toBe("");
    if (result.ok && folder !== "benches") expect((result.value as { name: string }).name).toBe(name);
    const schema = /^# yaml-language-server: \$schema=\.\/(\w+\.schema\.json)$/.exec(text.split("\n")[0] ?? "")?.[1];
    expect(readdirSync(folder)).toContain(schema);
  },
);

test.each(profiles.flatMap((profile) => sequences.map((sequence) => ({ profile, sequence }))))(
  "$sequence compiles for $profile, and most of it fits",
  ({ profile, sequence }) => {
    const { steps } = compile(shippedProfile(profile), shippedSequence(sequence), shippedBench());
    expect(steps.filter(({ fitted }) => fitted).length).toBeGreaterThan(0);
    for (const step of steps.filter(({ fitted }) => fitted)) expect(step.frames, step.id).toBeGreaterThan(0);
  },
);

test("every kind of fixture comes in a basic and in an extended mode", () => {
  const modes = profiles.map(shippedProfile);
  const kinds = [...new Set(modes.map(({ fixture }) => fixture))].sort();
  expect(kinds).toEqual(["beam", "framing", "hybrid", "led-pixels", "led-wash", "scanner", "spot", "wash"]);
  const axes = (kind: string | undefined) =>
    modes.filter(({ fixture }) => fixture === kind).map(({ functions }) => functions.get("Pan")?.slots.length);
  for (const kind of kinds) expect(axes(kind).sort(), kind).toEqual([1, 2]);
});

/** `npx vitest run test/data -u` writes them anew after a schema was changed. */
test.each([
  { file: "profiles/profile.schema.json", schema: profileFile },
  {
    file: "sequences/sequence.schema.json",
    schema: sequenceFile.extend({
      steps: z
        .array(z.union([...Object.values(STEP_SHAPES), ...Object.values(HAND_SHAPES)]))
        .min(1)
        .describe(sequenceFile.shape.steps.description ?? ""),
    }),
  },
  { file: "benches/bench.schema.json", schema: benchFile },
  { file: "racks/rack.schema.json", schema: rackFile },
  { file: "shops/shop.schema.json", schema: shopFile },
  { file: "docs/export.schema.json", schema: exportFile },
])("$file is what the program checks by", async ({ file, schema }) => {
  await expect(`${JSON.stringify(z.toJSONSchema(schema), undefined, 2)}\n`).toMatchFileSnapshot(`../../${file}`);
});

/** Every key that is written down in an object of a JSON Schema, with what is said of it. */
const keysOf = (schema: unknown, path = ""): readonly (readonly [path: string, says: unknown])[] => {
  if (typeof schema !== "object" || schema === null) return [];
  if (Array.isArray(schema)) return schema.flatMap((one) => keysOf(one, path));
  const { properties = {}, ...others } = schema as { readonly properties?: Readonly<Record<string, object>> };
  const own = Object.entries(properties).flatMap(([key, value]) => [
    [`${path}/${key}`, "description" in value ? value.description : undefined] as const,
    ...keysOf(value, `${path}/${key}`),
  ]);
  return [...own, ...Object.values(others).flatMap((value) => keysOf(value, path))];
};

test("of every key of an export the schema says what it means", () => {
  const keys = keysOf(z.toJSONSchema(exportFile));
  expect(keys.length).toBeGreaterThan(80);
  expect(keys.filter(([, says]) => typeof says !== "string" || says.trim() === "").map(([path]) => path)).toEqual([]);
});

/** The data files that a page shows whole. */
const shownIn = (page: string) => {
  const blocks = [...readFileSync(page, "utf8").matchAll(/^```yaml\n([\s\S]*?)^```$/gm)].map(([, text = ""]) => text);
  const beginning = (key: string) =>
    blocks.filter((text) => text.split("\n").some((line) => line.startsWith(`${key}: `)));
  return { profiles: beginning("profile"), sequences: beginning("sequence"), blocks };
};

test.each(["docs/guide/new-kind.md", "DEVELOPERS.md"])(
  "%s shows a whole profile and a whole sequence, as they can be copied",
  (page) => {
    const { profiles, sequences, blocks } = shownIn(page);
    expect([profiles.length, sequences.length, blocks.length]).toEqual([1, 1, 2]);
    const read = must(readProfile(page, profiles[0] ?? ""));
    expect(tellDoubts(lint(read))).toBe("");
    const sequence = must(readSequence(page, sequences[0] ?? ""));
    expect(tellDoubts(lintSequence(sequence, [read.profile, shippedProfile("spot-16bit")], shippedBench()))).toBe("");
    const { steps } = compile(read.profile, sequence.sequence, shippedBench());
    expect(steps.filter(({ fitted }) => fitted).length).toBeGreaterThanOrEqual(2);
  },
);
